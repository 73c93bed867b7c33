"""SVG made safe to read: no entities, nothing fetched, nothing too deep or too large; only what is drawn is kept."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree
from xml.parsers import expat

from pieces.errors import FormatError

if TYPE_CHECKING:
    from pieces.exchange.imported import Report

DEEPEST = 64
"""Elements in one another."""

MOST_ELEMENTS, MOST_NUMBERS = 100_000, 500_000
"""Elements, with all copies of them that are used; and numbers in all lines."""

DRAWN = ("svg", "g", "path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "use", "defs", "symbol")

SILENT = ("title", "desc", "metadata", "style", "namedview", "text", "tspan")
"""Elements that say nothing of outlines, and are dropped without a word."""

NAMESPACE = "{http://www.w3.org/2000/svg}"


def safe_root(text: str, name: str, report: Report) -> ElementTree.Element:
    """The root of the drawing, with nothing in it but lines, and groups of them.

    Raises
    ------
    FormatError
        If it is no SVG, or declares entities, or is too deep or too large.
    """
    text = re.sub(r"^\s*<\?xml[^>]*\?>", "", text)
    if re.search(r"<!(DOCTYPE|ENTITY)", text, re.IGNORECASE):
        raise FormatError(
            f"{name} has a DOCTYPE or ENTITY declaration, which could fetch or blow up anything: delete that line, or"
            " export it again as plain SVG"
        )
    _measure(text, name)
    root = ElementTree.fromstring(text)
    if root.tag not in (f"{NAMESPACE}svg", "svg"):
        raise FormatError(f"{name} is no SVG: its first element is {root.tag[:40]!r}")
    _prune(root, report)
    _bound_copies(root, name)
    return root


def _measure(text: str, name: str) -> None:
    """Count depth and elements by a parser that builds nothing."""
    depth = count = 0

    def begin(tag: str, attributes: Any) -> None:
        nonlocal depth, count
        depth, count = depth + 1, count + 1
        if depth > DEEPEST or count > MOST_ELEMENTS:
            what = f"more than {DEEPEST} elements deep" if depth > DEEPEST else f"more than {MOST_ELEMENTS} elements"
            raise FormatError(f"{name} has {what}: export the pieces alone")

    def end(tag: str) -> None:
        nonlocal depth
        depth -= 1

    parser = expat.ParserCreate()
    parser.StartElementHandler, parser.EndElementHandler = begin, end
    try:
        parser.Parse(text.encode(), True)
    except expat.ExpatError as error:
        raise FormatError(f"{name} is cut short or no SVG ({error}): export it again") from error
    if len(re.findall(r"\d[\s,;a-zA-Z\"'-]", text)) > MOST_NUMBERS:
        raise FormatError(f"{name} holds more than {MOST_NUMBERS} numbers: export the pieces alone")


def _prune(parent: ElementTree.Element, report: Report) -> None:
    """Drop what is no line, and references that point out of the file."""
    for child in list(parent):
        tag = child.tag.removeprefix(NAMESPACE) if isinstance(child.tag, str) else "title"
        short = tag.rpartition("}")[2]
        hidden = "none" in (child.get("display", ""), re.sub(r".*display\s*:\s*(\w+).*", r"\1", child.get("style", "")))
        target = target_of(child)
        if tag not in DRAWN or hidden or (tag == "use" and not target.startswith("#")):
            parent.remove(child)
            if tag in DRAWN:
                report.leave(f"<{tag}>", "it is hidden" if hidden else "it points out of the file")
            elif short not in SILENT:
                report.leave(f"<{short[:30]}>", "it is no line")
        else:
            _prune(child, report)


def target_of(element: ElementTree.Element) -> str:
    """What an element refers to."""
    return element.get("href") or element.get("{http://www.w3.org/1999/xlink}href") or ""


def _bound_copies(root: ElementTree.Element, name: str) -> None:
    """Refuse copies of copies, and copies that come to far too many elements."""
    named = {element.get("id"): element for element in root.iter() if element.get("id")}
    total = 0
    for use in [element for element in root.iter() if element.tag in (f"{NAMESPACE}use", "use")]:
        inside = list(target.iter()) if (target := named.get(target_of(use)[1:])) is not None else []
        if any(element.tag in (f"{NAMESPACE}use", "use") for element in inside):
            raise FormatError(f"{name} has copies of copies (<use> in <use>): export it again with its copies drawn")
        total += len(inside)
        if total > MOST_ELEMENTS:
            raise FormatError(f"{name} has copies of more than {MOST_ELEMENTS} elements: export the pieces alone")
