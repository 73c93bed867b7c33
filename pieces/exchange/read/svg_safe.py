"""SVG made safe to read: no entities, nothing fetched, nothing too deep or too large."""

from __future__ import annotations

import re
import string
from typing import Any
from xml.etree import ElementTree
from xml.parsers import expat

import numpy as np

from pieces.errors import FormatError

DEEPEST = 64
"""Elements in one another."""

MOST_ELEMENTS, MOST_NUMBERS = 100_000, 1_000_000
"""Elements, with all copies of them that are used; and numbers in all lines."""

MOST_NESTED = 8
"""Copies in one another."""

NAMESPACE = "{http://www.w3.org/2000/svg}"

COUNTED = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "use")
"""Elements that are accounted for one by one."""


_DIGITS, _ENDS = (
    np.array([chr(sign) in known for sign in range(256)])
    for known in (string.digits, string.whitespace + string.ascii_letters + ",;\"'-")
)


def safe_root(text: str, name: str) -> tuple[ElementTree.Element, int]:
    """The root of the drawing, and how many elements it has that are accounted for.

    A DOCTYPE is harmless as long as it defines no entities: what it refers to is never fetched.

    Raises
    ------
    FormatError
        If it is no SVG, or defines entities, or is too deep or too large.
    """
    text = re.sub(r"^\s*<\?xml[^>]*\?>", "", text)
    counted = _measure(text, name)
    try:
        root = ElementTree.fromstring(text)
    except ElementTree.ParseError as error:
        raise FormatError(f"{name} cannot be read as SVG ({error}): export it again as plain SVG") from error
    if root.tag not in (f"{NAMESPACE}svg", "svg"):
        raise FormatError(f"{name} is not SVG: its first element is {root.tag[:40]!r}")
    _bound_copies(root, name)
    return root, counted


def _measure(text: str, name: str) -> int:
    """Count depth and elements by a parser that builds nothing; how many are accounted for."""
    depth = count = counted = 0

    def begin(tag: str, attributes: Any) -> None:
        nonlocal depth, count, counted
        depth, count = depth + 1, count + 1
        counted += tag.removeprefix(NAMESPACE[1:-1] + " ") in COUNTED
        if depth > DEEPEST or count > MOST_ELEMENTS:
            what = f"more than {DEEPEST} elements deep" if depth > DEEPEST else f"more than {MOST_ELEMENTS} elements"
            raise FormatError(f"{name} has {what}: export the pieces alone")

    def end(tag: str) -> None:
        nonlocal depth
        depth -= 1

    def refuse(*_: Any) -> None:
        raise FormatError(
            f"{name} defines an entity, which is not safe to read: delete its <!ENTITY lines, or export it"
            " again as plain SVG"
        )

    written = text.encode()
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler, parser.EndElementHandler = begin, end
    parser.EntityDeclHandler = refuse
    try:
        parser.Parse(written, True)
    except expat.ExpatError as error:
        raise FormatError(f"{name} is cut short, or is not SVG ({error}): export it again") from error
    if _numbers(written) > MOST_NUMBERS:
        raise FormatError(f"{name} holds more than {MOST_NUMBERS} numbers: export the pieces alone")
    return counted


def _numbers(written: bytes) -> int:
    """How many numbers there are: digits that something else follows."""
    signs = np.frombuffer(written, np.uint8)
    is_digit = _DIGITS[signs]
    return int(np.count_nonzero(is_digit[:-1] & _ENDS[signs[1:]]))


def target_of(element: ElementTree.Element) -> str:
    """What an element refers to."""
    return element.get("href") or element.get("{http://www.w3.org/1999/xlink}href") or ""


def _bound_copies(root: ElementTree.Element, name: str) -> None:
    """Refuse copies that hold themselves, are nested too deep, or come to far too many elements."""
    named = {element.get("id"): element for element in root.iter() if element.get("id")}
    sizes: dict[str, int] = {}

    def size(target: str, above: tuple[str, ...]) -> int:
        """How many elements a copy of something comes to."""
        if target in above or len(above) > MOST_NESTED:
            what = "itself" if target in above else f"others more than {MOST_NESTED} deep"
            raise FormatError(f"{name} has a copy (<use>) that holds {what}: export it again with its copies drawn")
        if target not in sizes:
            element = named.get(target)
            inside = list(element.iter()) if element is not None else []
            copied = [target_of(use)[1:] for use in inside if use.tag in (f"{NAMESPACE}use", "use")]
            sizes[target] = len(inside) + sum(size(each, (*above, target)) for each in copied)
        return sizes[target]

    total = 0
    for use in [element for element in root.iter() if element.tag in (f"{NAMESPACE}use", "use")]:
        total += size(target_of(use)[1:], ())
        if total > MOST_ELEMENTS:
            raise FormatError(f"{name} has copies of more than {MOST_ELEMENTS} elements: export the pieces alone")
