"""Paths and polygons of straight lines alone, read at once: a library that makes an object of each point takes long."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.exchange.read.svg_safe import NAMESPACE

if TYPE_CHECKING:
    from collections.abc import Iterator
    from xml.etree import ElementTree

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Lines = list[tuple[Floats, bool]]

_NUMBER = r"(?>[-+]?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:[eE][-+]?[0-9]+)?)"

_BETWEEN = r"[ ,\t\n\r\f]*+"

_NUMBERS = re.compile(_NUMBER)

_PAIRS = rf"(?:{_BETWEEN}{_NUMBER}{_BETWEEN}{_NUMBER})"

_POLYGON = re.compile(rf"{_BETWEEN}M{_PAIRS}++(?:{_BETWEEN}L{_PAIRS}++)*+{_BETWEEN}(?P<close>[Zz]?){_BETWEEN}")
"""One line by places of its own."""

_STRAIGHT = re.compile(
    rf"{_BETWEEN}(?:[Mm]{_PAIRS}++|[Ll]{_PAIRS}++|[HhVv](?:{_BETWEEN}{_NUMBER})++|[Zz]){_BETWEEN}"
    rf"(?:(?:[MmLl]{_PAIRS}++|[HhVv](?:{_BETWEEN}{_NUMBER})++|[Zz]){_BETWEEN})*+"
)
"""Several lines, or lines by steps (SVG 1.1, 8.3); all else is left to the library."""

_COMMAND = re.compile(r"([MmLlHhVvZz])([^MmLlHhVvZz]*)")


def straight_lines(path: str) -> Lines | None:
    """The points of each part of a path, and whether it is closed; None if it has curves, or is not sound."""
    if found := _POLYGON.fullmatch(path):
        points = np.array(_NUMBERS.findall(path), dtype=np.float64).reshape(-1, 2)
        return [(points, bool(found["close"]))]
    if path.lstrip(" ,\t\n\r\f")[:1] not in ("M", "m") or not _STRAIGHT.fullmatch(path):
        return None
    return list(_parts(path))


def _parts(path: str) -> Iterator[tuple[Floats, bool]]:
    """Each part of a path whose commands are known to be sound."""
    points: list[tuple[float, float]] = []
    x = y = 0.0
    start = (x, y)
    for command, rest in _COMMAND.findall(path):
        if command in "Zz":
            yield np.array(points), True
            x, y = start
            points = [start]
            continue
        numbers = list(map(float, _NUMBERS.findall(rest)))
        if command in "Mm":
            if points:
                yield np.array(points), False
            points = []
        if command in "HhVv":
            for number in numbers:
                if command in "Hh":
                    x = number if command == "H" else x + number
                else:
                    y = number if command == "V" else y + number
                points.append((x, y))
            continue
        pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
        for number, (across, down) in enumerate(pairs):
            x, y = (across, down) if command.isupper() else (x + across, y + down)
            points.append((x, y))
            if command in "Mm" and not number:
                start = (x, y)
    if points:
        yield np.array(points), False


class StraightShapes:
    """The shapes of a drawing that are straight lines: taken out, and put back where their transform is known.

    In their place the drawing has a short line each, so the library finds where it lies without going through points.

    Parameters
    ----------
    key
        The attribute by which a shape is known.
    """

    def __init__(self, root: ElementTree.Element, key: str) -> None:
        self._key = key
        self._lines: dict[str, Lines] = {}
        for element in root.iter():
            source, tag = element.get(key), str(element.tag).removeprefix(NAMESPACE)
            if source is None:
                continue
            if tag == "path" and (lines := straight_lines(element.get("d", ""))):
                element.set("d", "M0 0L0 0")
            elif tag in ("polyline", "polygon") and (lines := _of_points(element.get("points", ""), tag)):
                element.set("points", "0,0 0,0")
            else:
                continue
            self._lines[source] = lines

    def lines(self, shape: Any) -> Lines | None:
        """The lines of a shape where it lies; None of one that is none of these."""
        lines = self._lines.get(str(shape.values.get(self._key)))
        if lines is None:
            return None
        matrix = shape.transform
        a, b, c, d, e, f = (getattr(matrix, name) for name in "abcdef")
        with np.errstate(all="ignore"):  # what is too far away is told later
            return [
                (np.column_stack([x * a + y * c + e, x * b + y * d + f]) + 0.0, closed)
                for (x, y), closed in ((points.T, closed) for points, closed in lines)
            ]


def _of_points(points: str, tag: str) -> Lines | None:
    from svgelements.svgelements import REGEX_COORD_PAIR  # type: ignore[import-untyped]

    found = np.array(REGEX_COORD_PAIR.findall(points), dtype=np.float64).reshape(-1, 2)
    return [(found, tag == "polygon")] if len(found) else None
