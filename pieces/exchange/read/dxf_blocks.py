"""Pieces out of DXF by the conventions of ASTM D6673: each block is one piece, in one size."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.errors import FormatError, SeveralSizesError
from pieces.exchange.drawing import DrawnLine, Mark, Word
from pieces.exchange.graded.beside import UNREAD
from pieces.exchange.graded.moving import SizeMoves, kind_of
from pieces.exchange.graded.rule_table import rule_of
from pieces.exchange.read.dxf_entities import (
    WORDS,
    Layers,
    called,
    enter,
    exploded,
    layer_of,
    on_paper,
    open_source,
    unread,
    written,
)
from pieces.exchange.read.dxf_lines import BETWEEN, LINES, MOST_POINTS, is_interpolated, words_of
from pieces.exchange.read.dxf_records import NOTE, records_of, take_count, take_lies, take_material
from pieces.exchange.read.dxf_signs import words_written
from pieces.exchange.sketch.assemble import add_line
from pieces.exchange.sketch.deciding import STANDARD, Decider, note_material
from pieces.exchange.sketch.naming import take_words
from pieces.exchange.sketch.notched import put_on_sew_line
from pieces.exchange.sketch.rings import joined_outlines, note_joins
from pieces.exchange.sketch.sketch import Sketch, printable_name
from pieces.exchange.sketch.strokes import joined_marks
from pieces.exchange.standard import LAYERS, label_of, record
from pieces.exchange.words.words import in_size_order, read_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from pieces.exchange.graded.moving import RuleKind
    from pieces.exchange.graded.rule_table import RuleTable
    from pieces.exchange.imported import ImportReport, ReadingChoices
    from pieces.exchange.read.dxf_entities import PlacedEntity
    from pieces.exchange.read.dxf_records import Records
    from pieces.piece.curve import Point

_KNOWN = {"QUANTITY": "cut", "MATERIAL": "material"}
"""What a record settles, so that other words do not."""

SCALE_OFF = 1e-4
"""A block placed no more than this share larger or smaller is placed as it is drawn."""

MOST_SIZES = 100

_KIND: Mapping[str, RuleKind] = {"notch": "notch", "drill": "drill", "sew": "sew"}

NAME_REACH = 2.0
"""A text on a layer of notches names the notch that it stands this near to, mm."""


@dataclass
class _Content:
    """What a block holds: lines, points with their part, words on layers of notches, and words of its own."""

    strokes: list[DrawnLine] = field(default_factory=list)
    points: list[tuple[str, Point, tuple[int, ...]]] = field(default_factory=list)
    names: list[Word] = field(default_factory=list)
    words: list[Word] = field(default_factory=list)
    many: int = 0


class Blocks:
    """The blocks of a document, read one by one."""

    def __init__(
        self,
        document: Any,
        text: str,
        scale: float,
        asked: ReadingChoices,
        report: ImportReport,
        table: RuleTable | None = None,
    ) -> None:
        self._table, self._grown_to = table, ""
        self._document, self._scale, self._asked, self._report = document, scale, asked, report
        self._layers, self._account = Layers(document), report.account
        self._decider = Decider(asked, report)
        self._written = written(text)
        self._texts: dict[str, list[str]] = {}
        self._mirrored: Counter[str] = Counter()
        self._grown: dict[str, str] = {}

    def sketches(self, records: Mapping[str, Records], style: Records) -> list[Sketch]:
        """The pieces of all blocks in the size that is wanted."""
        blocks = [self._document.blocks.get(name) for name in records]
        sizes = {r.get("SIZE", "") for r in records.values() if "PIECE NAME" in r}
        if self._table is None:
            wanted = _size(sizes, style, self._asked, self._report)
            self._report.sizes = tuple(in_size_order(sorted(sizes - {""})))[:MOST_SIZES]
            self._report.size = wanted or ""
        else:
            wanted = self._table.sample
            self._by_rules(self._table)
        placed, hidden = self._space()
        on_paper(self._document, self._account)
        self._account.fix()
        inside = {e.dxf.name for block in blocks for e in block if e.dxftype() == "INSERT"}
        sketches = []
        for block in blocks:
            found = records[block.name]
            size = found.get("SIZE", "")
            if wanted is not None and size not in ("", wanted):
                name = printable_name(found.get("PIECE NAME", block.name), "a piece")
                self._report.leave(f"'{name}' in size {size}", f"size {wanted} is read")
                self._all(block, "another size", f"size {wanted} is read")
            elif block.name in inside and "PIECE NAME" not in found:
                self._all(block, "not drawn", "it is read in the block that it is placed in")
            elif block.name in hidden and not placed[block.name]:
                self._all(block, "hidden", hidden[block.name])
            else:
                sketch = self._sketch(block, found)
                if sketch is not None:
                    if block.name not in inside:
                        self._check_placing(sketch.name, block.name, placed[block.name])
                    take_count(
                        sketch, found.get("QUANTITY"), (placed[block.name], self._mirrored[block.name]), self._report
                    )
                    known = [key for record_, key in _KNOWN.items() if found.get(record_)]
                    take_words(sketch, self._texts.pop(block.name, []), self._report, known)
                    note_material(sketch, self._report)
                    sketches.append(sketch)
        unread(self._account, self._written[""] + sum(self._written[name] for name in records))
        self._decider.tell(sketches)
        return sketches

    def _by_rules(self, table: RuleTable) -> None:
        """The size that is read of those of the rule table: the one asked for, or the one that is drawn."""
        size = table.sample if self._asked.size is None else self._asked.size
        if size not in table.sizes:
            raise FormatError(
                f"the file has no size {size!r}: by the rule table beside it, it has {', '.join(table.sizes[:20])}"
            )
        self._report.sizes, self._report.size = table.sizes, size
        self._grown_to = "" if size == table.sample else size
        drawn = (
            f"size {size}, which is drawn, is read; --size reads another, --grade writes rules"
            if size == table.sample
            else (f"size {size} is made by its rules of size {table.sample}, which is drawn")
        )
        self._report.remarks.append(f"graded by the rule table beside it in {', '.join(table.sizes[:20])}: {drawn}")

    def _check_placing(self, name: str, block: str, placed: int) -> None:
        """Tell of a piece that is not placed, or not as large as it is drawn."""
        if not placed:
            self._report.guess(f"'{name}': its block is never placed; it is read anyway")
        elif grown := self._grown.get(block):
            self._report.guess(
                f"'{name}': its block is placed {grown} times as large; it is read as its block is drawn"
            )

    def _space(self) -> tuple[Counter[str], dict[str, str]]:
        """How often each block is placed, and why some are not shown; all else is outside the pieces."""
        placed: Counter[str] = Counter()
        hidden: dict[str, str] = {}
        stray: dict[str, list[int]] = {}
        for entity in self._document.modelspace():
            kind, layer = entity.dxftype(), layer_of(entity)
            source = open_source(entity, layer, self._account)
            number = self._account.enter(source, "words" if kind in WORDS else "other")
            why = self._layers.why_hidden(entity, layer)
            if kind == "INSERT":
                self._account.put([number], "placement", why=f"it places '{entity.dxf.name[:40]}'")
                if why:
                    hidden.setdefault(entity.dxf.name, why)
                else:
                    placed[entity.dxf.name] += entity.mcount
                    across, up = float(entity.dxf.xscale), float(entity.dxf.yscale)
                    self._mirrored[entity.dxf.name] += entity.mcount * (across * up < 0)
                    if max(abs(abs(across) - 1), abs(abs(up) - 1)) > SCALE_OFF:
                        self._grown[entity.dxf.name] = f"{abs(across):g} by {abs(up):g}"
                own = records_of(self._document.blocks.get(entity.dxf.name) or ()) if entity.attribs else {}
                for attribute in entity.attribs:
                    self._outside(attribute, own, stray)
            elif why:
                self._account.put([number], "hidden", why=why)
            elif kind in WORDS and all(map(record, words_written(entity).splitlines())):
                self._account.put([number], "words read", why="it is a record of the style")
            else:
                stray.setdefault(kind, []).append(number)
        for kind, numbers in stray.items():
            self._report.leave(f"{len(numbers)} {kind}", "outside all blocks, so it belongs to no piece", numbers)
        return placed, hidden

    def _outside(self, attribute: Any, own: Records, stray: dict[str, list[int]]) -> None:
        """Enter an attribute of a placed block: it says a record of the block again, or stands outside the piece."""
        source = self._account.source(called("ATTRIB", layer_of(attribute)))
        number = self._account.enter(source, "words")
        said = record(f"{attribute.dxf.tag.replace('_', ' ')}: {words_written(attribute)}")
        if said and own.get(said[0]) == said[1]:
            self._account.put([number], "said again", why="a record of its block says the same")
        else:
            stray.setdefault("ATTRIB", []).append(number)

    def _all(self, block: Any, place: Any, why: str) -> None:
        """All that a block holds, in one place of the account."""
        for found in exploded(block, self._layers, self._account):
            number = enter(found, self._scale, self._account).number
            self._account.put([number], place, why=why)
            self._account.entries[number - 1].is_fixed = True

    def _sketch(self, block: Any, found: Records) -> Sketch | None:
        """The piece of one block; None, and told, where it has no closed outline."""
        report = self._report
        name = printable_name(found.get("PIECE NAME") or block.name, "piece")
        content = self._read(block, name)
        content.strokes = self._decider.decide(content.strokes)
        joined = joined_outlines(content.strokes, self._asked.join, report)
        more, joined = self._decider.closed(joined)
        rings = sorted(
            (line for line in [*more, *joined] if line.closed),
            key=lambda r: (self._decider.says_piece(r.numbers) != "told", -float(np.prod(np.ptp(r.points, axis=0)))),
        )
        sketch = Sketch(name, rings[0].points if rings else np.zeros((0, 2)))
        if not rings:
            report.leave(f"'{name}'", "no closed line on layer 1")
        else:
            sketch.label = label_of(found.get(NOTE, ""))
            sketch.take("piece", rings[0].numbers)
            report.account.joined(rings[0].numbers)
            note_joins(rings[0], name, report)
        for ring in rings[1:]:
            report.leave(f"an outline of '{name}'", "a piece has one outline: the largest is used", ring.numbers)
        for line in joined:
            if not line.closed:
                report.leave(f"a line on layer 1 of '{name}'", "it is not closed", line.numbers)
        self._marks(sketch, content)
        self._contradictions(name, found, content.words)
        lines = [line.strip() for word in content.words for line in word.text.splitlines() if not record(line)]
        self._texts[block.name] = [line for line in lines if line]
        hints = [line for text in self._texts[block.name] for line in read_words(text).rest if line != name]
        sketch.label = sketch.label or label_of(", ".join(hints))
        take_material(sketch, found.get("MATERIAL", ""), report)
        take_lies(sketch, found, report)
        if rings:
            return sketch
        for _, numbers in sketch.taken:
            self._account.put(numbers, "left out", name, "no closed line on layer 1")
        return None

    def _contradictions(self, name: str, found: Records, words: Iterable[Word]) -> None:
        """Tell of records that say two things."""
        for pair in filter(None, (record(line) for word in words for line in word.text.splitlines())):
            key, said = pair
            if key != NOTE and key in found and said != found[key]:
                first, other = printable_name(found[key], ""), printable_name(said, "")
                self._report.guess(f"'{name}': its {key} is '{first}' and '{other}': the first is used")

    def _marks(self, sketch: Sketch, content: _Content) -> None:
        for stroke in joined_marks(content.strokes, self._asked.join, self._report):
            if stroke.role != "outline":
                add_line(sketch, stroke, self._report)
        sewn = [Mark("sew point", "", point, numbers) for role, point, numbers in content.points if role == "sew"]
        for role, point, numbers in content.points:
            if role == "sew":
                continue
            if role == "drill":
                sketch.drills.append(point)
                sketch.take("drill point", numbers)
            else:
                sketch.notches.append((_notch_name(content.names, point, len(sketch.notches)), point))
                sketch.take("notch", numbers)
        put_on_sew_line(sketch, sewn, self._report)
        for word in (*content.names, *content.words):
            sketch.take("words read", word.numbers)

    def _read(self, block: Any, name: str) -> _Content:
        """What a block holds; what stands on layers that are not read is told."""
        content = _Content()
        unread_: dict[str, list[int]] = {}
        for found in exploded(block, self._layers, self._account):
            entered = enter(found, self._scale, self._account)
            layer = found.layer
            role = LAYERS.get(layer, "unknown")
            self._decider.settle()
            told = self._decider.role(entered.number) if not found.hidden else None
            if told and self._decider.drop([entered.number], told):
                continue
            role = STANDARD[told] if told else role
            self._account.because([entered.number], "named", f"by layer {layer[:20]}, as the open standard names it")
            if found.hidden:
                self._account.put([entered.number], "hidden", name, found.hidden)
            elif found.entity.dxftype() in WORDS:
                words = words_of(found.entity, self._scale) or ("", (0.0, 0.0))
                (content.names if role == "notch" else content.words).append(Word(*words, (entered.number,)))
            elif role == "known":
                self._account.put([entered.number], "said again", name, f"layer {layer[:20]} repeats other lines")
            elif role == "unknown":
                unread_.setdefault(layer, []).append(entered.number)
            elif entered.points is None:
                why = entered.why or f"it is not a line, point or text on layer {layer[:20]}"
                self._report.leave(f"{found.entity.dxftype()} of '{name}'", why, [entered.number])
            else:
                self._put(content, found, role, entered)
            if content.many > MOST_POINTS:
                raise FormatError(f"the lines of '{name}' come to more than {MOST_POINTS} points")
        for layer, numbers in unread_.items():
            why = "that layer does not affect cutting"
            self._report.leave(f"{len(numbers)} on layer {layer[:20]} of '{name}'", why, numbers)
        if self._table is not None and self._grown_to:
            self._grow(block, content, name, SizeMoves(self._table, self._grown_to))
        return content

    def _grow(self, block: Any, content: _Content, name: str, moves: SizeMoves) -> None:
        """Bring all that a block holds to the size that is wanted; what has no rule is told."""
        for entity in block:
            words = words_of(entity, self._scale) if entity.dxftype() in WORDS else None
            rule, kind = words and rule_of(words[0]), kind_of(layer_of(entity))
            if words and rule is not None and kind is not None:
                moves.add(kind, words[1], rule)
        _move(content, moves)
        if moves.without:
            self._report.guess(
                f"'{name}': {moves.without} of its lines and points have no rule, and stay in size {self._grown_to} as "
                "they are drawn"
            )

    def _put(self, content: _Content, found: PlacedEntity, role: Any, entered: Any) -> None:
        """Put a line or a point where it belongs; circles on layers of marks are points."""
        kind, numbers = found.entity.dxftype(), (entered.number,)
        if kind == "CIRCLE" and role in ("notch", "drill"):
            x, y = (float(v) * self._scale for v in tuple(found.entity.ocs().to_wcs(found.entity.dxf.center))[:2])
            content.points.append((role, (x, y), numbers))
        elif kind in LINES:
            content.strokes.append(DrawnLine(entered.points, role, found.layer, entered.closed, numbers))
            content.many += len(entered.points)
            if is_interpolated(found.entity):
                self._report.guess_once(BETWEEN)
        elif role in ("notch", "drill", "sew"):
            x, y = entered.points[0].tolist()
            content.points.append((role, (x, y), numbers))
        else:
            self._report.leave(
                f"a point on layer {found.layer[:20]}",
                "only notches, drill points and points of the sew line are points",
                numbers,
            )


def _size(sizes: set[str], style: Records, asked: ReadingChoices, report: ImportReport) -> str | None:
    """The one size to read: asked for, the only one, or the sample size; FormatError if none of these is there."""
    sizes = sizes - {""}
    known = ", ".join(in_size_order(sorted(sizes))[:20])
    if asked.size is not None:
        if asked.size not in sizes:
            also = "".join(f"; {said}" for said in report.remarks if said.startswith(UNREAD))
            raise FormatError(f"the file has no size {asked.size!r}: it has {known or 'none'}{also}")
        return asked.size
    if len(sizes) <= 1:
        return next(iter(sizes), None)
    sample = style.get("SAMPLE SIZE", "")
    if sample in sizes:
        return sample
    raise SeveralSizesError(
        f"the file holds the sizes {known}: choose one with --size", tuple(in_size_order(sorted(sizes)))[:MOST_SIZES]
    )


def _notch_name(words: Sequence[Word], point: Point, known: int) -> str:
    """The text beside a notch, or its number."""
    beside = [(apart, word.text) for word in words
              if word.text and (apart := float(np.hypot(*np.subtract(word.place, point)))) <= NAME_REACH]  # fmt: skip
    return printable_name(min(beside)[1], "notch") if beside else f"notch {known + 1}"


def _move(content: _Content, moves: SizeMoves) -> None:
    """Bring all that a block holds to another size."""
    for at, stroke in enumerate(content.strokes):
        kind: RuleKind = "grain" if stroke.role == "grain" else "line"
        content.strokes[at] = replace(stroke, points=moves.line(kind, stroke.points, is_closed=stroke.closed))
    before = [point for role, point, _ in content.points if role == "notch"]
    content.points = [(role, moves.point(_KIND[role], point), numbers) for role, point, numbers in content.points]
    after = [point for role, point, _ in content.points if role == "notch"]
    for at, word in enumerate(content.names):
        apart = [float(np.hypot(*np.subtract(word.place, point))) for point in before]
        if apart and min(apart) <= NAME_REACH:
            near = apart.index(min(apart))
            shift = np.add(word.place, np.subtract(after[near], before[near])).tolist()
            content.names[at] = word._replace(place=(shift[0], shift[1]))
