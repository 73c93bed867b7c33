"""The elements of an SVG made ready to be read: each entered as a source, with what is known of it written on it."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from pieces.exchange.labels import is_automatic
from pieces.exchange.standard import role_of
from pieces.exchange.svg_look import Look, Styles
from pieces.exchange.svg_safe import COUNTED, NAMESPACE, target_of

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree import ElementTree

    from pieces.exchange.account import Account, Place
    from pieces.exchange.imported import Report
    from pieces.exchange.standard import Role

SOURCE, NAME, CALLED, ROLE = "data-ell-source", "data-ell-name", "data-ell-called", "data-ell-role"
HIDDEN, MOVED, FILLED, GROUND, WORDS, TEMPLATE, COPY, SHOWN = (
    f"data-ell-{key}" for key in ("hidden", "moved", "filled", "ground", "words", "template", "copy", "shown")
)

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

LABELS = ("data-name", "{http://www.inkscape.org/namespaces/inkscape}label", "aria-label")
"""Attributes in which drawing programs keep what a person calls a thing."""


class Elements:
    """The walk through a drawing.

    Parameters
    ----------
    others
        How many elements were entered that nobody counts beforehand: pictures, scripts and the like.
    """

    def __init__(self, root: ElementTree.Element, report: Report) -> None:
        self.others = 0
        self._report, self._styles = report, Styles(root)
        self._bare = not root.tag.startswith(NAMESPACE)
        if self._styles.has_more:
            report.guess(
                "its style sheet has rules that are not followed here: what they hide or show is taken as seen"
            )
        self._walk(root, self._styles.look(root, Look()), "", "outline", "")

    @property
    def _account(self) -> Account:
        return self._report.account

    def _walk(self, parent: ElementTree.Element, look: Look, name: str, role: Role, template: str) -> None:
        """Write on every element what is known of it, after its groups; drop what is no line."""
        for child in list(parent):
            tag = self._tag(child)
            if tag in GROUPS or tag in TEMPLATES or tag in SHAPES or tag in ("use", "text"):
                self._prepare(child, tag, look, name, role, template)
                continue
            parent.remove(child)
            if tag in SILENT or tag in ONLY_FOR_OTHERS or not tag:
                self._drop(child, "not drawn", f"in <{tag or 'a part of its own'}>, which is never drawn itself")
            else:
                self.others += 1
                source = self._account.source(f"<{tag[:30]}>")
                self._report.leave(f"<{tag[:30]}>", "it is no line", [self._account.enter(source, "other")])
                self._drop(child, "left out", f"in <{tag[:30]}>, which is no line")

    def _tag(self, element: ElementTree.Element) -> str:
        """The name of an element; empty if it is none of SVG's."""
        tag = str(element.tag)
        if tag.startswith(NAMESPACE):
            return tag.removeprefix(NAMESPACE)
        return tag if self._bare and not tag.startswith("{") else ""

    def _drop(self, element: ElementTree.Element, place: Place, why: str) -> None:
        """Account for whatever is counted within an element that is dropped."""
        for inner in element.iter():
            tag = str(inner.tag).removeprefix(NAMESPACE)
            if tag in COUNTED:
                number = self._account.enter(self._account.source(f"<{tag}>"), "other")
                self._account.put([number], place, why=why)

    def _prepare(self, child: ElementTree.Element, tag: str, above: Look, name: str, role: Role, template: str) -> None:
        look = self._styles.look(child, above)
        own, called, part = _labels(child, name, role)
        for key in ("display", "visibility", "style", "class"):
            child.attrib.pop(key, None)
        if tag in GROUPS or tag in TEMPLATES:
            if tag in ("a", "switch"):
                child.tag = child.tag.replace(tag, "g")
            self._walk(child, look, own, part, f"<{tag}>" if tag in TEMPLATES else template)
            return
        source = self._account.source(f"<{tag}>" + (f" '{called[:40]}'" if called else ""))
        child.set(SOURCE, str(source))
        if tag == "use":
            self._use(child, source, look)
            return
        child.set(NAME, name)
        child.set(CALLED, called)
        child.set(ROLE, part)
        child.set(HIDDEN, look.hidden if tag == "text" else look.unseen)
        child.set(MOVED, "1" if look.moved else "")
        child.set(FILLED, "1" if look.is_filled else "")
        child.set(GROUND, "1" if look.is_ground else "")
        child.set(TEMPLATE, template)
        if tag == "text":
            _as_line(child)

    def _use(self, child: ElementTree.Element, source: int, look: Look) -> None:
        """Enter a copy: it says where something is drawn once more."""
        number = self._account.enter(source, "other")
        target = target_of(child)
        child.set(COPY, str(source))
        child.set(SHOWN, look.unseen if look.hidden else "")
        if not target.startswith("#"):
            child.set("href", "#")
            child.attrib.pop("{http://www.w3.org/1999/xlink}href", None)
            self._report.leave("<use>", "it points out of the file", [number])
        else:
            self._account.put([number], "placement", why=f"a copy of {target[:40]}")


def _labels(child: ElementTree.Element, name: str, role: Role) -> tuple[str, str, Role]:
    """What an element is called after its groups, what it is called itself, and the part it plays."""
    title = next((t.text for t in child if str(t.tag).rpartition("}")[2] == "title" and t.text), "")
    called = next((words for key in LABELS if (words := child.get(key))), "") or (title or "").strip()
    identity = child.get("id", "")
    if not called and identity and not is_automatic(identity):
        called = identity.replace("_", " ").strip()
    if is_automatic(called):
        called = ""
    part = role
    for words in (identity, child.get("class"), called):
        if words and not is_automatic(words):
            found = role_of(words)
            if found != "outline" or _says_cut(words):
                part = found
                called = "" if words in (called, identity) and words is not child.get("data-name") else called
    return called or name, called, part


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
