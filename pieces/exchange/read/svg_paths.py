"""Paths of lines and cubics, and polygons, read at once: a library that makes an object of each point takes long."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from pieces.exchange.mend.arc import FINE
from pieces.exchange.read.svg_safe import NAMESPACE
from pieces.piece.curve import flatten_each
from pieces.piece.polygon import FARTHEST

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
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

_SOUND = re.compile(
    rf"{_BETWEEN}(?=[Mm])(?:(?:[MmLl]{_PAIRS}++|[HhVv](?:{_BETWEEN}{_NUMBER})++|[Cc](?:{_PAIRS}{{3}})++|[Zz])"
    rf"{_BETWEEN})*+"
)
"""Several lines, lines by steps, and cubics (SVG 1.1, 8.3); all else is left to the library."""

_COMMAND = re.compile(r"([MmLlHhVvCcZz])([^MmLlHhVvCcZz]*)")


class PathPart(NamedTuple):
    """A part of a path: its points and those that guide its cubics, where a cubic begins, and whether it is closed."""

    nodes: Floats
    curves: list[int]
    closed: bool

    def line(self) -> Floats:
        """Points along it, its cubics as short chords."""
        if not self.curves:
            return self.nodes
        cubics = self.nodes[np.array(self.curves)[:, np.newaxis] + np.arange(4)]
        near = np.asarray((np.abs(cubics) < FARTHEST).all(axis=(1, 2)))
        drawn = iter(flatten_each(cubics[near], FINE))
        parts, done = [], 0
        for at, is_near in zip(self.curves, near.tolist(), strict=True):
            if is_near:
                parts += [self.nodes[done : at + 1], next(drawn)[1:]]
                done = at + 4
        return np.vstack([*parts, self.nodes[done:]])


def path_parts(path: str) -> list[PathPart] | None:
    """The parts of a path; None if it has other curves, or is not sound."""
    if found := _POLYGON.fullmatch(path):
        return [PathPart(_numbers(path).reshape(-1, 2), [], bool(found["close"]))]
    return list(_parts(path)) if _SOUND.fullmatch(path) else None


def _numbers(path: str) -> Floats:
    """The numbers of such a line."""
    try:
        return np.array(path.translate(_APART).split(), dtype=np.float64)
    except ValueError:  # some are not apart, such as 1-2
        return np.array(_NUMBERS.findall(path), dtype=np.float64)


_APART = str.maketrans("MLZz,", "     ")


def _parts(path: str) -> Iterator[PathPart]:
    """Each part of a path whose commands are known to be sound."""
    nodes: list[tuple[float, float]] = []
    curves: list[int] = []
    x = y = 0.0
    start = (x, y)
    for command, rest in _COMMAND.findall(path):
        kind, is_step = command.upper(), command.islower()
        if nodes and kind in "MZ":
            yield PathPart(np.array(nodes), curves, kind == "Z")
            nodes, curves = [], []
        if kind == "Z":
            x, y = start
            nodes = [start]
            continue
        numbers = list(map(float, _NUMBERS.findall(rest)))
        if kind in "HV":
            for number in numbers:
                if kind == "H":
                    x = number + x if is_step else number
                else:
                    y = number + y if is_step else number
                nodes.append((x, y))
            continue
        for at in range(0, len(numbers), 2):
            across, down = numbers[at : at + 2]
            nodes.append((across + x, down + y) if is_step else (across, down))
            if kind == "C" and at % 6 == 0:
                curves.append(len(nodes) - 2)
            if kind != "C" or at % 6 == 4:
                x, y = nodes[-1]
            if kind == "M" and at == 0:
                start = (x, y)
    if nodes:
        yield PathPart(np.array(nodes), curves, False)


class KnownPaths:
    """The shapes of a drawing that are read at once: taken out, and put back where their transform is known.

    In their place the drawing has a short line each, so the library finds where it lies without going through points.

    Parameters
    ----------
    key
        The attribute by which a shape is known.
    """

    def __init__(self, root: ElementTree.Element, key: str) -> None:
        self._key = key
        self._parts: dict[str, list[PathPart]] = {}
        for element in root.iter():
            source, tag = element.get(key), str(element.tag).removeprefix(NAMESPACE)
            if source is None:
                continue
            if tag == "path" and (parts := path_parts(element.get("d", ""))):
                element.set("d", "M0 0L0 0")
            elif tag in ("polyline", "polygon") and (parts := _of_points(element.get("points", ""), tag)):
                element.set("points", "0,0 0,0")
            else:
                continue
            self._parts[source] = parts

    def has(self, element: ElementTree.Element) -> bool:
        """Whether a shape is one of these."""
        return element.get(self._key, "") in self._parts

    def lines(self, values: Mapping[str, Any], transform: Any, scale: float) -> Lines | None:
        """The lines of a shape where it lies, mm, y upwards, and whether they are closed; None if it is none of these.

        Parameters
        ----------
        values
            What is written on it.
        transform
            As the library has it.
        scale
            Millimetres in a pixel.
        """
        parts = self._parts.get(str(values.get(self._key)))
        if parts is None:
            return None
        a, b, c, d, e, f = (getattr(transform, name) for name in "abcdef")
        found = []
        with np.errstate(all="ignore"):  # what is too far away is told later
            for part in parts:
                x, y = part.nodes.T
                placed = np.column_stack([x * a + y * c + e, x * b + y * d + f]) + 0.0
                line = part._replace(nodes=placed * (scale, -scale)).line()
                if part.closed or len(line) > 1:
                    found.append((line, part.closed and len(line) > 2))
        return found


def _of_points(points: str, tag: str) -> list[PathPart] | None:
    from svgelements.svgelements import REGEX_COORD_PAIR  # type: ignore[import-untyped]

    found = np.array(REGEX_COORD_PAIR.findall(points), dtype=np.float64).reshape(-1, 2)
    return [PathPart(found, [], tag == "polygon")] if len(found) else None
