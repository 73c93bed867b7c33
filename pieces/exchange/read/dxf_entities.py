"""The entities of a DXF file, one by one: those of placed blocks in their places, and why some are not drawn."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from pieces.exchange.decided.mark import LineMark
from pieces.exchange.read.dxf_lines import LINES, UnreadableError, points_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from numpy.typing import NDArray

    from pieces.exchange.account import Account, EntryKind

    Floats = NDArray[np.float64]

WORDS = ("TEXT", "MTEXT", "ATTRIB")

DEEPEST, MOST_PLACED = 8, 60_000
"""Blocks in blocks, and entities that they may come to in all."""

NEVER_PLOTTED = "defpoints"
"""The layer on which drawing programs keep the points of dimensions: it is never plotted."""

_OF_TEXT = (
    "layer",
    "text",
    "insert",
    "align_point",
    "halign",
    "valign",
    "height",
    "rotation",
    "extrusion",
    "invisible",
)
"""What makes a text of an attribute."""

_PARTS = ("VERTEX", "SEQEND", "ENDSEC", "ENDBLK", "SECTION", "BLOCK", "EOF")


class PlacedEntity(NamedTuple):
    """An entity where it is drawn.

    `layer` is the one it counts for; `hidden` why it is not drawn, empty if it is; `source` its number in the account;
    `block` the name of the block that it was placed by, the outermost that has one.
    """

    entity: Any
    layer: str
    hidden: str
    source: int
    block: str = ""

    @property
    def called(self) -> str:
        """What it is, and on which layer."""
        return called(self.entity.dxftype(), self.layer)


def called(kind: str, layer: str) -> str:
    """What an entity is called in the account."""
    return f"{kind} on layer '{layer[:40]}'"


_COLOURS = {
    1: "#ff0000", 2: "#ffff00", 3: "#00ff00", 4: "#00ffff", 5: "#0000ff", 6: "#ff00ff", 7: "black", 256: "", 0: ""
}  # fmt: skip
"""The colours that have a number of their own; 7 is black on white (DXF reference, from memory)."""


class Entered(NamedTuple):
    """An entity in the account: its number; if it is a line or a point, where it lies; if it cannot be drawn, why."""

    number: int
    points: Floats | None = None
    closed: bool = False
    why: str = ""


def enter(found: PlacedEntity, scale: float, account: Account) -> Entered:
    """Enter an entity in the account."""
    kind = found.entity.dxftype()
    what: EntryKind = "other"
    points, closed, why = None, False, ""
    if kind in LINES:
        try:
            points, closed = points_of(found.entity, scale)
            what = "closed outline" if closed else "open line"
        except UnreadableError as error:
            why = str(error)
    elif kind == "POINT" and found.entity.dxf.get("location") is None:
        why = "it has no place"
    elif kind == "POINT":
        points, what = np.array([tuple(found.entity.dxf.location)[:2]], dtype=np.float64) * scale, "point"
    elif kind in WORDS:
        what = "words"
    return Entered(account.enter(found.source, what, found.called, points, _mark(found)), points, closed, why)


def _mark(found: PlacedEntity) -> LineMark:
    """The layer, the colour and the line style of an entity; those that its layer has, if it says so."""
    entity, layer = found.entity, found.layer[:40]
    try:
        of_layer = entity.doc.layers.get(layer) if entity.doc and layer in entity.doc.layers else None
        number, exact = entity.dxf.get("color", 256), entity.dxf.get("true_color")
        if number == 256 and exact is None and of_layer is not None:
            number, exact = abs(of_layer.color), of_layer.dxf.get("true_color")
        style = str(entity.dxf.get("linetype", "BYLAYER"))
        if style.upper() == "BYLAYER":
            style = str(of_layer.dxf.get("linetype", "")) if of_layer is not None else ""
        colour = f"#{exact:06x}" if exact is not None else _COLOURS.get(number, f"colour {number}")
    except Exception:  # whatever an odd entity makes of the library
        return LineMark(layer)
    return LineMark(layer, colour, "" if style.upper() in ("CONTINUOUS", "BYBLOCK") else style[:40])


def open_source(entity: Any, layer: str, account: Account) -> int:
    """Open the source of an entity; a part that lost its whole in a damaged file is counted by nobody else."""
    kind = entity.dxftype()
    return account.source(called(kind, layer), is_counted=kind not in _PARTS)


def layer_of(entity: Any) -> str:
    """The layer of an entity, of one that the library does not know as well."""
    if entity.dxf.is_supported("layer"):
        return str(entity.dxf.get("layer", "0"))
    tags = getattr(entity, "xtags", None)
    found = [tag.value for part in tags.subclasses for tag in part if tag.code == 8] if tags is not None else []
    return str(found[0]) if found else "0"


class Layers:
    """Which layers are drawn."""

    def __init__(self, document: Any) -> None:
        self._off: dict[str, str] = {NEVER_PLOTTED: "which is never plotted"}
        self._frozen: set[str] = set()
        for layer in document.layers:
            name = layer.dxf.name.lower()
            if layer.is_frozen():
                self._off[name] = "which is frozen"
                self._frozen.add(name)
            elif layer.is_off():
                self._off[name] = "which is switched off"
            elif not layer.dxf.get("plot", 1):
                self._off[name] = "which is not plotted"

    def why_hidden(self, entity: Any, layer: str) -> str:
        """Why an entity is not drawn; empty if it is."""
        if entity.dxf.is_supported("invisible") and entity.dxf.get("invisible", 0):
            return "it is invisible (group code 60)"
        off = self._off.get(layer.lower())
        return f"on layer '{layer[:40]}', {off}" if off else ""

    def is_frozen(self, layer: str) -> bool:
        """Whether a layer is frozen: a block placed on it is not drawn at all."""
        return layer.lower() in self._frozen


def exploded(space: Any, layers: Layers, account: Account) -> Iterator[PlacedEntity]:
    """Entities, with those of the blocks they insert in their places; a source each is opened in the account.

    Raises
    ------
    UnreadableError
        If blocks hold one another, or come to far too many: that is counted before any is placed.
    """
    if _placed(space, {}, ()) > MOST_PLACED:
        raise UnreadableError(f"its blocks come to more than {MOST_PLACED} entities")
    for entity in space:
        layer = layer_of(entity)
        source = open_source(entity, layer, account)
        yield from _exploded(entity, layers, source, account)
        for attribute in _attributes(entity):
            named = account.source(called("ATTRIB", layer_of(attribute)))
            yield _found(attribute, layers, named, "", "0", str(entity.dxf.name))


def _attributes(entity: Any) -> list[Any]:
    return list(entity.attribs) if entity.dxftype() == "INSERT" else []


def _found(entity: Any, layers: Layers, source: int, hidden: str, above: str, block: str) -> PlacedEntity:
    """An entity of a block; on layer 0 it counts for the layer that the block is placed on."""
    layer = layer_of(entity)
    layer = above if layer == "0" else layer
    return PlacedEntity(entity, layer, hidden or layers.why_hidden(entity, layer), source, block)


def _exploded(first: Any, layers: Layers, source: int, account: Account) -> Iterator[PlacedEntity]:
    waiting, seen = [(_found(first, layers, source, "", "0", ""), "")], 0
    while waiting:
        found, forced = waiting.pop()
        if found.entity.dxftype() != "INSERT":
            seen += 1
            yield found
            continue
        if found.entity.block() is None:
            number = account.enter(source, "other", found.called)
            account.put([number], "left out", why="the block that it places is not in the file")
            seen += 1
            continue
        block = found.block or _name(str(found.entity.dxf.name))
        invisible = found.entity.dxf.get("invisible", 0) or layers.is_frozen(found.layer)
        hidden = forced or (found.hidden if invisible else "")
        placed = found.entity.multi_insert() if found.entity.mcount > 1 else [found.entity]
        try:
            inner = [each for one in placed for each in (*one.virtual_entities(), *_always_shown(one))]
        except MemoryError:
            raise
        except Exception as error:  # whatever a damaged block makes of the library
            why = f"the block that it places cannot be drawn ({type(error).__name__})"
            account.put([account.enter(source, "other", found.called)], "left out", why=why)
            seen += 1
            continue
        waiting += [(_found(each, layers, source, hidden, found.layer, block), hidden) for each in inner][::-1]
    if not seen:
        account.put([account.enter(source, "other")], "left out", why="the block that it places is empty")


def _always_shown(insert: Any) -> Iterator[Any]:
    """Texts that a block shows wherever it is placed: its constant attributes, which the library does not place."""
    from ezdxf.entities.text import Text

    for attribute in insert.block().attdefs():
        if attribute.is_const and not attribute.is_invisible:
            known = {key: attribute.dxf.get(key) for key in _OF_TEXT if attribute.dxf.hasattr(key)}
            yield Text.new(dxfattribs=known).transform(insert.matrix44())


def _name(block: str) -> str:
    """The name of a block; empty for one that a program gave."""
    return "" if block.startswith(("*", "A$C")) else block


def _placed(layout: Any, known: dict[str, int], above: tuple[str, ...]) -> int:
    """How many entities a layout or a block comes to, those of the blocks in it included."""
    if len(above) > DEEPEST:
        raise UnreadableError(f"its blocks are nested more than {DEEPEST} deep")
    total = 0
    for entity in layout:
        total += 1
        if entity.dxftype() == "INSERT" and (block := entity.block()) is not None:
            if block.name in above:
                raise UnreadableError(f"its block {block.name[:30]!r} contains itself")
            if block.name not in known:
                known[block.name] = _placed(block, known, (*above, block.name))
            total += entity.mcount * known[block.name]
    return total


def written(text: str) -> Counter[str]:
    """How many entities stand in the text of a file: by block, those of the drawing and its sheets under ``""``.

    Counted from the tags themselves, without the library that reads them.
    """
    many: Counter[str] = Counter()
    section = block = ""
    begins = ""
    for code, value in _named(text):
        if code == "0":
            begins = value
            if value not in _PARTS and (section == "ENTITIES" or (section == "BLOCKS" and block)):
                many[block if section == "BLOCKS" else ""] += 1
            if value in ("ENDBLK", "ENDSEC"):
                block = ""
        elif begins == "SECTION":
            section, begins = value, ""
        elif begins == "BLOCK":
            block, begins = value, ""
    return many


def _named(text: str) -> Iterator[tuple[str, str]]:
    """Each tag of code 0 or 2, a part of the text after the other: all lines at once take much memory."""
    begin = 0
    while begin < len(text):
        end = text.find("\n", begin + _PART)
        part = text[begin : end if end >= 0 else len(text)]
        if end >= 0 and part.count("\n") % 2 == 0:  # a code whose value follows
            after = text.find("\n", end + 1)
            end = after if after >= 0 else len(text)
            part = text[begin:end]
        written = part.encode("utf-8", "surrogatepass")
        signs = np.frombuffer(written, np.uint8)
        ends = np.append(np.flatnonzero(signs == ord("\n")), len(signs))
        lines = np.column_stack([np.append(0, ends[:-1] + 1), ends])
        pairs = lines[: len(lines) // 2 * 2].reshape(-1, 4)
        for at, to, first, last in pairs[_may_name(signs, pairs[:, 0], pairs[:, 1])].tolist():
            if (code := _code(written[at:to].decode("utf-8", "surrogatepass"))) in ("0", "2"):
                yield code, written[first:last].decode("utf-8", "surrogatepass").strip()
        begin = end + 1 if end >= 0 else len(text)


_PART = 2_000_000
"""Signs that are looked at together."""


def _may_name(signs: NDArray[np.uint8], begins: NDArray[np.int64], ends: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Which codes may be 0 or 2: those that do not end in another digit, or in 0 or 2 after another digit."""
    if not len(signs):
        return np.zeros(len(begins), dtype=bool)
    last, before = signs[np.maximum(ends - 1, 0)], signs[np.maximum(ends - 2, 0)]
    is_other = (last == ord("1")) | ((last >= ord("3")) & (last <= ord("9")))
    is_longer = ((last == ord("0")) | (last == ord("2"))) & (before >= ord("1")) & (before <= ord("9"))
    may: NDArray[np.bool_] = ~((ends > begins) & is_other) & ~((ends - begins > 1) & is_longer)
    return may


def _code(given: str) -> str:
    """A group code as it is written, without signs and noughts before it."""
    code = given.strip()
    if len(code) > 1 and (code[0] in "+0" or set(code[1:]) == {"0"}):
        code = code.lstrip("+-0") or "0"
    return code


def own_blocks(document: Any, text: str) -> list[Any]:
    """The blocks that stand in the text of a file: the library adds some of its own, such as arrowheads."""
    from ezdxf.lldxf.encoding import decode_dxf_unicode, has_dxf_unicode

    names = re.findall(r"\n *0 *\n *BLOCK *\n(?:(?! *0 *\n)[^\n]*\n[^\n]*\n)*? *2 *\n([^\n]*)", text)
    known = {(decode_dxf_unicode(name) if has_dxf_unicode(name) else name).strip().lower() for name in names}
    return [
        block
        for block in document.blocks
        if not (block.block_record.is_any_layout or block.name.startswith("*")) and block.name.lower() in known
    ]


def on_paper(document: Any, account: Account) -> None:
    """Enter what stands on sheets of paper, which are no part of the drawing."""
    for layout in document.layouts:
        if layout.is_modelspace:
            continue
        for entity in layout:
            kind = entity.dxftype()
            number = account.enter(open_source(entity, layer_of(entity), account), "other")
            if kind == "VIEWPORT":
                account.put([number], "placement", why="it shows the drawing on a sheet of paper")
            else:
                account.put([number], "left out", why=f"it is on the paper sheet '{layout.name[:40]}'")


def unread(account: Account, expected: int) -> None:
    """Enter entities of the text that the library did not give."""
    account.expect(expected)
    for _ in range(expected - account.sources):
        number = account.enter(account.source("an entity"), "other")
        account.put([number], "left out", why="it is damaged and cannot be read")


def placed_blocks(document: Any) -> Iterable[str]:
    """The names of all blocks that are placed somewhere."""
    holders = [*document.layouts, *(b for b in document.blocks if not b.block_record.is_any_layout)]
    return {entity.dxf.name for holder in holders for entity in holder if entity.dxftype() == "INSERT"}
