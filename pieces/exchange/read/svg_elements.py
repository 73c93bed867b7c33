"""The elements of an SVG made ready to be read: each entered as a source, with what is known of it written on it."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING, Any

from pieces.exchange.read.svg_look import HIDDEN, OWN, UNREAD, Styles
from pieces.exchange.read.svg_safe import COUNTED, NAMESPACE, target_of
from pieces.exchange.read.svg_symbol import edges, place_copy
from pieces.exchange.standard import role_of
from pieces.exchange.svg_length import box_of, inside_of, settle_lengths
from pieces.exchange.words.labels import is_automatic

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree import ElementTree

    from pieces.exchange.account import Account, EntryRole
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.standard import StandardRole
    from pieces.exchange.svg_length import Box

SOURCE, NAME, CALLED, ROLE = "data-ell-source", "data-ell-name", "data-ell-called", "data-ell-role"
WORDS, TEMPLATE, COPY, LAYER = (f"data-ell-{key}" for key in ("words", "template", "copy", "layer"))
COPY_NAME, COPY_CALLED = (f"data-ell-copy-{key}" for key in ("name", "called"))
"""What a copy is called: in place of the group, and of the shape, that it is a copy of."""

GROUPS = ("svg", "g", "a", "switch")
TEMPLATES = ("defs", "symbol")
SHAPES = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")

SILENT = ("title", "desc", "metadata", "style", "namedview")
"""Elements that draw nothing, and say nothing of outlines."""

ONLY_FOR_OTHERS = (
    *("clipPath", "mask", "marker", "pattern", "linearGradient", "radialGradient", "stop", "filter", "font"),
    *("font-face", "cursor", "view", "color-profile", "solidColor", "hatch", "mesh"),
)
"""Elements that change how others look, and are never drawn themselves."""

_CODED = re.compile(r"_x(0?0?[2-7][0-9A-Fa-f])_")
"""A sign that some editors write by its number in an ``id``, such as ``_x5F_`` for a low line: common practice."""

MOVING = ("animate", "animateTransform", "animateMotion", "animateColor", "set")

SHOWN = ("visible", "auto")
"""What ``overflow`` says of a drawing of which nothing is cut off."""

LABELS = ("data-name", "{http://www.inkscape.org/namespaces/inkscape}label", "aria-label")
"""Attributes in which drawing programs keep what a person calls a thing."""


class Elements:
    """The walk through a drawing.

    Parameters
    ----------
    others
        How many elements were entered that nobody counts beforehand: pictures, scripts and the like.
    """

    def __init__(self, root: ElementTree.Element, report: ImportReport) -> None:
        self.others = 0
        self._is_moving = False
        self._report, self._styles = report, Styles(root)
        self._bare = not root.tag.startswith(NAMESPACE)
        if self._styles.has_more:
            report.guess("its style sheet has rules that are ignored: what they hide is taken as visible")
        self._named = {e.get("id"): e for e in root.iter() if e.get("id")}
        self._ids = Counter(e.get("id") for e in root.iter())
        look = self._styles.write(root)
        if self._styles.has_more and "stroke" not in look:
            root.set(f"{OWN}stroke", "unknown")
        _bare(root)
        self._walk(root, inside_of(root, None), "", "outline", "")

    @property
    def _account(self) -> Account:
        return self._report.account

    def _walk(self, parent: ElementTree.Element, box: Box | None, name: str, role: StandardRole, template: str) -> None:
        """Write on every element what is known of it, after its groups; drop what is no line."""
        for child in list(parent):
            tag = self._tag(child)
            if tag in GROUPS or tag in TEMPLATES or tag in SHAPES or tag in ("use", "text"):
                self._prepare(child, tag, (parent, box), name, role, template)
                continue
            parent.remove(child)
            if tag in SILENT or tag in ONLY_FOR_OTHERS or not tag:
                self._drop(child, "not drawn", f"in <{tag or 'a part of its own'}>, which is never drawn itself")
            else:
                self.others += 1
                source = self._account.source(f"<{tag[:30]}>")
                self._report.leave(f"<{tag[:30]}>", "it is not a line", [self._account.enter(source, "other")])
                self._drop(child, "left out", f"in <{tag[:30]}>, which is not a line")

    def _tag(self, element: ElementTree.Element) -> str:
        """The name of an element; empty if it is none of SVG's."""
        tag = str(element.tag)
        if tag.startswith(NAMESPACE):
            return tag.removeprefix(NAMESPACE)
        return tag if self._bare and not tag.startswith("{") else ""

    def _drop(self, element: ElementTree.Element, place: EntryRole, why: str) -> None:
        """Account for whatever is counted within an element that is dropped."""
        for inner in element.iter():
            tag = str(inner.tag).removeprefix(NAMESPACE)
            if tag in COUNTED:
                number = self._account.enter(self._account.source(f"<{tag}>"), "other")
                self._account.put([number], place, why=why)

    def _prepare(
        self,
        child: ElementTree.Element,
        tag: str,
        around: tuple[Any, Box | None],
        name: str,
        role: StandardRole,
        template: str,
    ) -> None:
        parent, box = around
        own, called, part = _labels(child, name, role)
        look = self._styles.write(child)
        self._still(child)
        if tag == "switch":
            self._choose(child)
        if tag == "svg" and look.get("overflow", "hidden") not in SHOWN:
            _put_round(child, edges(child, child, box), parent)
        _bare(child)
        if tag in GROUPS or tag in TEMPLATES:
            if layer := next((words for key in (*LABELS, "id") if (words := child.get(key))), ""):
                child.set(LAYER, layer)  # what lies in it has it as well
            if tag in ("a", "switch"):
                child.tag = child.tag.replace(tag, "g")
            within = inside_of(child, box) if tag == "svg" else box_of(child) if tag == "symbol" else box
            self._walk(child, within, own, part, f"<{tag}>" if tag in TEMPLATES else template)
            return
        source = self._account.source(f"<{tag}>" + (f" '{called[:40]}'" if called else ""))
        child.set(SOURCE, str(source))
        if tag == "use":
            self._use(child, source, parent, box, called)
            return
        if tag == "path" and child.get("d") is None:
            child.set("d", "")  # it draws nothing (SVG 2, 9.3.1), and the library asks for it
        child.set(NAME, name)
        child.set(CALLED, called)
        child.set(ROLE, part)
        child.set(TEMPLATE, template)
        if tag == "text":
            self._hide_parts(child, source)
            _as_line(child)
        elif why := settle_lengths(child, box):
            child.set(UNREAD, why)

    def _use(self, child: ElementTree.Element, source: int, parent: Any, box: Box | None, called: str) -> None:
        """Enter a copy: it says where something is drawn once more."""
        number = self._account.enter(source, "other")
        target = target_of(child)
        child.set(COPY, str(source))
        symbol = self._named.get(target[1:]) if target.startswith("#") else None
        if symbol is not None and self._ids[target[1:]] > 1:
            self._report.guess(
                f"several things have the id '{target[1:40]}', and one of them is copied: the first is read"
            )
        kind = "" if symbol is None else self._tag(symbol)
        child.set(COPY_NAME, called)
        child.set(COPY_CALLED, called if kind in SHAPES else "")
        if not target.startswith("#") or kind == "svg":
            child.set("href", "#")
            child.attrib.pop("{http://www.w3.org/1999/xlink}href", None)
            why = "it is a copy of a whole drawing" if kind == "svg" else "it points outside the file"
            self._report.leave("<use>", why, [number])
            return
        self._account.put([number], "placement", why=f"a copy of {target[:40]}")
        if symbol is None or kind != "symbol":
            if why := settle_lengths(child, box):
                child.set(UNREAD, why)
            return
        if self._styles.write(symbol).get("overflow", "hidden") not in SHOWN:
            _put_round(child, edges(child, symbol, box), parent)
        if why := place_copy(child, symbol, box):
            self._report.guess(f"a copy of '{target[:40]}': {why}")

    def _choose(self, switch: ElementTree.Element) -> None:
        """Of the alternatives in a switch, keep the one that is drawn (SVG 1.1, 5.8); others are not drawn."""
        drawn = [child for child in switch if self._tag(child) and self._tag(child) not in SILENT]
        known = [child for child in drawn if not child.get("requiredExtensions")]
        chosen = next((child for child in known if not child.get("systemLanguage")), next(iter(known), None))
        if known and known[0].get("systemLanguage"):
            self._report.guess("a <switch> draws one of its alternatives, depending on the viewer: one is read")
        for child in drawn:
            if child is not chosen:
                switch.remove(child)
                self._drop(child, "not drawn", "it is an alternative in a <switch>, and is not drawn")

    def _hide_parts(self, text: ElementTree.Element, source: int) -> None:
        """Take parts of a text out that are not seen."""
        for part in list(text.iter())[1:]:
            look = self._styles.write(part)
            if (part.get(HIDDEN) or look.get("visibility") == "hidden") and "".join(part.itertext()).strip():
                self._account.put([self._account.enter(source, "words")], "hidden", why="part of it is not visible")
                tail = part.tail
                part.clear()
                part.tail = tail

    def _still(self, element: ElementTree.Element) -> None:
        """Tell of things that move: they are read as they stand without."""
        for child in list(element):
            if self._tag(child) in MOVING:
                element.remove(child)
                if not self._is_moving:
                    self._is_moving = True
                    self._report.guess(
                        "it has parts that move or change (<animate>, <set>): they are read as they start"
                    )


def _bare(element: ElementTree.Element) -> None:
    """Take off an element what the library would follow in its own way."""
    for key in ("display", "visibility", "style", "class"):
        element.attrib.pop(key, None)


def _put_round(child: ElementTree.Element, both: Any, parent: ElementTree.Element) -> None:
    """Put one line before an element and one after it."""
    if both is not None:
        at = list(parent).index(child)
        parent.insert(at, both[0])
        parent.insert(at + 2, both[1])


def _labels(child: ElementTree.Element, name: str, role: StandardRole) -> tuple[str, str, StandardRole]:
    """What an element is called after its groups, what it is called itself, and the part it plays."""
    title = next((t.text for t in child if str(t.tag).rpartition("}")[2] == "title" and t.text), "")
    called = next((words for key in LABELS if (words := child.get(key))), "") or (title or "").strip()
    identity = _CODED.sub(lambda sign: chr(int(sign[1], 16)), child.get("id", ""))
    if not called and identity and not is_automatic(identity):
        called = identity.replace("_", " ").strip()
    if is_automatic(called):
        called = ""
    part = role
    for words in (identity, _class_of(child), called):
        if words and not is_automatic(words):
            found = role_of(words)
            if found != "outline" or _says_cut(words):
                part = found
                called = "" if words in (called, identity) and words is not child.get("data-name") else called
    return called or name, called, part


def _class_of(child: ElementTree.Element) -> str:
    """Its class; of several the last that says a role, unless they say one together, as ``cut line`` does."""
    whole = child.get("class", "")
    said = [word for word in whole.split() if role_of(word) != "outline" or _says_cut(word)]
    return said[-1] if said and role_of(whole) == "outline" and not _says_cut(whole) else whole


def _says_cut(words: str) -> bool:
    return words.lower() in ("cut", "cut line", "outline")


def _as_line(text: ElementTree.Element) -> None:
    """Make a text the line that it is written along, with its words on it: so its place follows all transforms."""
    words = "\n".join(filter(None, (" ".join(line.split()) for line in _lines(text))))
    placed = [text, *text.iter()]
    x, y = (next((_number(e.get(key, "")) for e in placed if e.get(key)), 0.0) for key in ("x", "y"))
    size = _number(next((e.get("font-size", "") for e in placed if e.get("font-size")), "10")) or 10.0
    anchor = next((a for e in placed if (a := e.get("text-anchor"))), "start")
    wide = 0.5 * size * max(map(len, words.split("\n")))
    left = x - {"middle": wide / 2, "end": wide}.get(anchor, 0.0)
    kept = {
        key: value for key, value in text.attrib.items() if key.startswith("data-ell-") or key in ("transform", "id")
    }
    text.clear()
    text.attrib.update(kept)
    text.tag = text.tag.replace("text", "path")
    text.set("d", f"M {left!r} {y!r} h {max(wide, 0.01)!r}")
    text.set(WORDS, words or " ")


def _lines(text: ElementTree.Element) -> Iterator[str]:
    """The lines of a text: each part that is placed anew is one."""
    line = text.text or ""
    for part in text:
        inside = "".join(part.itertext())
        if any(part.get(key) for key in ("x", "y", "dy")):
            yield line
            line = inside
        else:
            line += inside
        line += part.tail or ""
    yield line


def _number(text: str) -> float:
    """The first number of a list of coordinates, in pixels."""
    found = re.match(r"\s*([-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?)\s*(mm|cm|in|pt|pc)?", text, re.IGNORECASE)
    scale = {"mm": 96 / 25.4, "cm": 960 / 25.4, "in": 96.0, "pt": 96 / 72, "pc": 16.0}
    return float(found[1]) * scale.get((found[2] or "").lower(), 1.0) if found else 0.0
