"""Pieces out of SVG: paths and shapes with their transforms, units and viewBox, by svgelements."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, Any, get_args
from xml.etree import ElementTree

import numpy as np

from pieces.curve import Cubic
from pieces.errors import FormatError
from pieces.exchange.arc import FINE
from pieces.exchange.assemble import Drawing, assemble
from pieces.exchange.imported import Asked, Report, scale_of
from pieces.exchange.joining import Stroke
from pieces.exchange.sketch import printable_name
from pieces.exchange.source import read_source
from pieces.exchange.standard import Role, role_of
from pieces.exchange.svg_safe import NAMESPACE, safe_root
from pieces.piece import FARTHEST
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.curve import Point
    from pieces.exchange.sketch import Sketch

    Floats = NDArray[np.float64]

PIXELS = 96.0
"""Of CSS, to the inch."""

REAL_LENGTH = re.compile(r"\s*[\d.]+(?:e[+-]?\d+)?\s*(mm|cm|in|pt|pc|q)\s*", re.IGNORECASE)

MILLIMETRES = {"mm": 1.0, "cm": 10.0, "in": INCH, "pt": INCH / 72, "pc": INCH / 6, "q": 0.25}

SHAPES = ("path", "rect", "circle", "ellipse", "line", "polyline", "polygon")

NAME, ROLE = "data-piece", "data-role"


def sketch_svg(path: Path, asked: Asked) -> tuple[list[Sketch], Report]:
    """The pieces that an SVG file holds, as they are drawn.

    A shape is called by its own ``data-name`` or ``id``, or by those of its nearest group; what it is for is told by
    the trade's words in them or in its class, such as ``grain``, ``notch``, ``sew``, ``fold``.

    Raises
    ------
    FormatError
        If the file is no SVG, unsafe, too large, or does not say its unit.
    """
    report = Report("SVG")
    root = safe_root(read_source(path, "svg"), path.name, report)
    scale = _scale(root, asked, path.name, report)
    _write_down(root, "", "outline")
    drawing = Drawing()
    for shape, values in _shapes(root, path.name):
        _draw(shape, values, scale, drawing, report)
    return assemble(drawing, asked.join, report), report


def _scale(root: ElementTree.Element, asked: Asked, name: str, report: Report) -> float:
    """Millimetres in a pixel of the parsed drawing; what was asked for counts units of the drawing itself."""
    width, height = root.get("width", ""), root.get("height", "")
    if asked.units:
        for key in ("width", "height", "viewBox", "preserveAspectRatio"):
            root.attrib.pop(key, None)
        report.units = f"{asked.units}, as asked"
        return scale_of(asked.units)
    if not (REAL_LENGTH.fullmatch(width) and REAL_LENGTH.fullmatch(height)):
        got = f"'{width[:20]}' by '{height[:20]}'" if width or height else "nothing"
        raise FormatError(
            f"{name} does not say how large it is: its width and height say {got}: say what its numbers count with"
            " --units mm, cm or in"
        )
    report.units = f"mm, by its width of {width.strip()}"
    if root.get("viewBox"):  # svgelements takes a millimetre for 0.0393701 in: it is given plain numbers instead
        for key, length in (("width", width), ("height", height)):
            if found := REAL_LENGTH.fullmatch(length):
                root.set(key, repr(float(length[: found.start(1)]) * MILLIMETRES[found[1].lower()]))
        return 1.0
    return INCH / PIXELS


def _write_down(parent: ElementTree.Element, name: str, role: Role) -> None:
    """Write on every shape what it is called and for, after its groups."""
    for child in parent:
        own, part = name, role
        for words in (child.get("id"), child.get("class"), child.get("data-name")):
            if words:
                found = role_of(words)
                if found != "outline" or _says_cut(words):
                    part = found
                elif words is not child.get("class"):
                    own = words
        child.set(NAME, own)
        child.set(ROLE, part)
        _write_down(child, own, part)


def _says_cut(words: str) -> bool:
    return words.lower() in ("cut", "cut line", "outline")


def _shapes(root: ElementTree.Element, name: str) -> Iterator[tuple[Any, dict[str, Any]]]:
    """Every shape in its place, with what was written on it."""
    import svgelements  # type: ignore[import-untyped]

    for prefix in ("svg", ""):
        ElementTree.register_namespace(prefix, NAMESPACE[1:-1])
    source = io.BytesIO(ElementTree.tostring(root))
    try:
        drawn = svgelements.SVG.parse(source, reify=True, ppi=PIXELS)
        for element in drawn.elements():
            if isinstance(element, svgelements.Shape):
                yield abs(svgelements.Path(element)), element.values  # a turned rectangle is not one any more
    except FormatError:
        raise
    except Exception as error:  # whatever a damaged file makes of the library
        raise FormatError(f"{name} cannot be read as SVG: {' '.join(str(error).split())[:80]}") from error


def _draw(shape: Any, values: dict[str, Any], scale: float, drawing: Drawing, report: Report) -> None:
    name, said = str(values.get(NAME, "")), values.get(ROLE)
    role: Role = next((role for role in get_args(Role) if role == said), "outline")
    lines = [line for line in _lines(shape, scale) if len(line[0]) > 1]
    if not all((np.abs(points) < FARTHEST).all() for points, _ in lines):
        report.leave(
            f"'{printable_name(name, 'a line')}'", "a point of it is no finite number, or lies far too far off"
        )
        return
    if role in ("notch", "drill") and lines:
        every = np.vstack([points for points, _ in lines])
        x, y = ((every.min(axis=0) + every.max(axis=0)) / 2).tolist()
        drawing.points.append((role, printable_name(name, "") if role == "notch" else "", (x, y)))
        return
    drawing.strokes += [Stroke(points, role, name, closed) for points, closed in lines]


def _lines(shape: Any, scale: float) -> Iterator[tuple[Floats, bool]]:
    """Each subpath's points, mm, y upwards, and whether it is closed."""
    points: list[Point] = []
    for segment in shape:
        kind = type(segment).__name__
        if kind == "Move" or (kind == "Close" and not points):
            if len(points) > 1:
                yield np.array(points), False
            points = [_point(segment.end, scale)] if segment.end is not None else []
        elif kind == "Close":
            yield np.array(points), len(points) > 2
            points = [_point(segment.end, scale)] if segment.end is not None else []
        elif kind == "Line":
            points.append(_point(segment.end, scale))
        else:
            points += _curve(segment, kind, scale)
    if len(points) > 1:
        yield np.array(points), False


def _curve(segment: Any, kind: str, scale: float) -> list[Point]:
    """Points of a curve after its start."""
    if kind == "Arc":
        found: list[Point] = []
        for part in segment.as_cubic_curves(max(1, int(abs(segment.sweep) / 0.3) + 1)):
            found += _curve(part, "CubicBezier", scale)
        return found
    start, end = _point(segment.start, scale), _point(segment.end, scale)
    if kind == "QuadraticBezier":
        x, y = _point(segment.control, scale)
        lead, trail = (((a + 2 * x) / 3, (b + 2 * y) / 3) for a, b in (start, end))
    else:
        lead, trail = _point(segment.control1, scale), _point(segment.control2, scale)
    if not (np.abs([start, lead, trail, end]) < FARTHEST).all():
        return [lead, trail, end]
    return [(x, y) for x, y in Cubic(start, lead, trail, end).flatten(FINE)[1:].tolist()]


def _point(point: Any, scale: float) -> Point:
    return float(point.x) * scale, -float(point.y) * scale
