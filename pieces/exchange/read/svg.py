"""Pieces out of SVG: paths and shapes with their transforms, units and viewBox, by svgelements."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, Any, get_args
from xml.etree import ElementTree

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.decided.mark import LONGEST, LineMark
from pieces.exchange.drawing import Drawing, DrawnLine, Mark, Word
from pieces.exchange.imported import UNIT_WORDS, ImportReport, ReadingChoices, scale_of, told_unit
from pieces.exchange.mend.arc import FINE
from pieces.exchange.mend.joining import as_ring
from pieces.exchange.read.marks import marks_of_svg
from pieces.exchange.read.svg_elements import (
    CALLED,
    COPY,
    COPY_CALLED,
    COPY_NAME,
    LAYER,
    NAME,
    ROLE,
    SOURCE,
    TEMPLATE,
    WORDS,
    Elements,
)
from pieces.exchange.read.svg_look import CLIPPED, HIDDEN, UNPAINTED, UNREAD, Look
from pieces.exchange.read.svg_paths import KnownPaths
from pieces.exchange.read.svg_plain import plain_shapes
from pieces.exchange.read.svg_safe import NAMESPACE, safe_root
from pieces.exchange.read.svg_symbol import EDGE
from pieces.exchange.read.svg_unseen import Unseen
from pieces.exchange.sketch.assemble import assemble
from pieces.exchange.sketch.sketch import printable_name
from pieces.exchange.source import read_source
from pieces.exchange.standard import StandardRole
from pieces.exchange.svg_area import edges_of_fill
from pieces.exchange.svg_length import box_of
from pieces.piece.curve import Cubic
from pieces.piece.polygon import FARTHEST
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.exchange.account import Account, EntryKind
    from pieces.exchange.sketch.sketch import Sketch
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]
    Lines = list[tuple[Floats, bool]]

_NUMBER = r"((?:\d+\.?\d*|\.\d+)(?:e[+-]?\d{1,3})?)"

REAL_LENGTH = re.compile(rf"\s*{_NUMBER}\s*(mm|cm|in|pt|pc|q)\s*", re.IGNORECASE)

PIXELS = re.compile(rf"\s*{_NUMBER}\s*(?:px)?\s*", re.IGNORECASE)

CSS = 96.0
"""Pixels of the parsed drawing to the inch."""

SKEWED = 0.005
"""A size may have other proportions than the view box by this share, which whole numbers come to."""

MILLIMETRES = {"mm": 1.0, "cm": 10.0, "in": INCH, "pt": INCH / 72, "pc": INCH / 6, "q": 0.25}


def sketch_svg(path: Path, asked: ReadingChoices) -> tuple[list[Sketch], ImportReport]:
    """The pieces that an SVG file holds, as they are drawn.

    A shape is called by its own label, title or ``id``, or by those of its nearest group; what it is for is told by
    the trade's words in them or in its class, such as ``grain``, ``notch``, ``sew``, ``fold``.

    Raises
    ------
    FormatError
        If the file is no SVG, unsafe, too large, or does not say its unit.
    """
    report = ImportReport("SVG")
    text = read_source(path, "svg")
    root, counted = safe_root(text, path.name)
    if "<?xml-stylesheet" in text:
        report.guess("it uses a style sheet from another file, which is ignored: everything is taken as visible")
    if root.get("viewBox") and box_of(root) is None:
        report.guess(f"its viewBox '{root.attrib.pop('viewBox')[:40]}' is not valid and is ignored")
    _settle_sides(root, report)
    scale, page = _scale(root, asked, path.name, report)
    elements = Elements(root, report)
    drawing, unseen = Drawing(page=page), Unseen(page)
    shapes = list(_shapes(root, path.name, scale))
    if is_bare := _is_bare(values for _, values in shapes):
        report.guess("nothing in it has a line or a filling: every outline is read as if it had a line")
    for lines, values in shapes:
        if edge := values.get(EDGE):
            unseen.pass_edge(edge, lines[0][0])
        else:
            _draw(lines, values, drawing, report, unseen, is_bare=is_bare)
    _account_for_rest(root, report)
    report.account.expect(counted + elements.others)
    report.marks = marks_of_svg(text, report.account)
    sketches = assemble(drawing, asked, report)
    unseen.tell(report)
    return sketches, report


def _account_for_rest(root: ElementTree.Element, report: ImportReport) -> None:
    """What was not drawn: templates of which there is no copy, and shapes without extent."""
    entered = {entry.source for entry in report.account.entries}
    for element in root.iter():
        source = element.get(SOURCE)
        if source is not None and int(source) not in entered:
            number = report.account.enter(int(source), "other")
            if element.get(TEMPLATE):
                why = f"it is in {element.get(TEMPLATE)}, and no copy of it is drawn"
                report.account.put([number], "not drawn", why=why)
            else:
                report.account.put([number], "left out", why="it cannot be drawn")


def _scale(
    root: ElementTree.Element, asked: ReadingChoices, name: str, report: ImportReport
) -> tuple[float, Floats | None]:
    """Millimetres in a pixel of the parsed drawing, and the page in mm; what was asked for counts the drawing's units.

    Pixels that were asked for are those of the page, so that a viewBox counts as well.
    """
    width, height = root.get("width", ""), root.get("height", "")
    box = [float(n) for n in re.findall(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?", root.get("viewBox", ""), re.I)[:4]]
    if asked.units:
        has_size = re.fullmatch(r"[\d.]+\s*(mm|cm|in|pt|pc|q)", width.strip(), re.IGNORECASE)
        report.units = told_unit(None, "", asked.units, f"that it is {width.strip()} wide" if has_size else None)
        scale = scale_of(asked.units, asked.per_inch)
        across, deep = PIXELS.fullmatch(width), PIXELS.fullmatch(height)
        if asked.units == "px":
            report.units += f", {asked.per_inch:g} to the inch"
            if len(box) == 4 and across and deep:
                return scale, _page(0, 0, float(across[1]) * scale, float(deep[1]) * scale)
        for key in ("width", "height", "viewBox", "preserveAspectRatio"):
            root.attrib.pop(key, None)
        return scale, _page(*(n * scale for n in box)) if len(box) == 4 else None
    real, deep = REAL_LENGTH.fullmatch(width), REAL_LENGTH.fullmatch(height)
    if not (real and deep):
        raise FormatError(f"{name} does not give its size: {_unsaid(width, height)}")
    report.units = f"mm, by its width of {width.strip()}"
    sides = [_real(width), _real(height)]
    _ask_for_proportions(sides, box, root.get("preserveAspectRatio", ""), report)
    if root.get("viewBox"):  # svgelements takes a millimetre for 0.0393701 in: it is given plain numbers instead
        for key, side in zip(("width", "height"), sides, strict=True):
            root.set(key, repr(side))
        return 1.0, _page(0, 0, *sides)
    return INCH / CSS, _page(0, 0, *sides)


def _ask_for_proportions(sides: list[float], box: list[float], kept: str, report: ImportReport) -> None:
    """Tell of a size that has other proportions than the view box: one of the two was rounded, or is wrong."""
    if len(box) != 4 or min(box[2:]) <= 0 or min(sides) <= 0 or kept.split()[:1] == ["none"]:
        return
    across, down = sides[0] / box[2], sides[1] / box[3]
    if abs(across / down - 1) > SKEWED:
        report.guess(
            f"its size of {sides[0]:.5g} by {sides[1]:.5g} mm has not the proportions of its view box, by "
            f"{abs(across / down - 1):.1%}: one of them was rounded; check a length that you know, or give --units"
        )


def _settle_sides(root: ElementTree.Element, report: ImportReport) -> None:
    """Write the sides of the drawing that its style says as its own, if it has none; tell of those that contradict."""
    for key, said in re.findall(r"(?<![\w-])(width|height)\s*:\s*([^;]+)", root.get("style", "")):
        own = root.get(key, "")
        if REAL_LENGTH.fullmatch(said) and not REAL_LENGTH.fullmatch(own):
            root.set(key, said.strip())
        elif REAL_LENGTH.fullmatch(said) and _real(said) != _real(own):
            report.guess(f"its {key} is '{own[:20]}', and '{said[:20]}' in its style: the first is used")


def _real(text: str) -> float:
    """A real length, mm."""
    found = REAL_LENGTH.fullmatch(text)
    return float(found[1]) * MILLIMETRES[found[2].lower()] if found else 0.0


def _unsaid(width: str, height: str) -> str:
    """What to do where a drawing says no length."""
    if PIXELS.fullmatch(width) and PIXELS.fullmatch(height):
        return (
            f"its width and height are in pixels, '{width[:20]}' by '{height[:20]}': give --units px (96 to the inch, "
            f"or another number with --per-inch), or the unit of its numbers: {UNIT_WORDS}"
        )
    got = f"'{width[:20]}' by '{height[:20]}'" if width or height else "nothing"
    return f"its width and height are {got}: give the unit of its numbers with --units: {UNIT_WORDS}"


def _page(x: float, y: float, wide: float, deep: float) -> Floats:
    """The corners of the page, y upwards."""
    return np.array([(x, -y - deep), (x + wide, -y - deep), (x + wide, -y), (x, -y)])


def _shapes(root: ElementTree.Element, name: str, scale: float) -> Iterator[tuple[Lines, dict[str, Any]]]:
    """The lines of every shape in its place, mm, y upwards, with what was written on it."""
    import svgelements  # type: ignore[import-untyped]

    for prefix in ("svg", ""):
        ElementTree.register_namespace(prefix, NAMESPACE[1:-1])
    known_paths = KnownPaths(root, SOURCE)
    if (plain := plain_shapes(root, known_paths, CSS)) is not None:
        for values, transform in plain:
            yield known_paths.lines(values, transform, scale) or [], values
        return
    source = io.BytesIO(ElementTree.tostring(root))
    try:
        drawn = svgelements.SVG.parse(source, reify=False, ppi=CSS)
        for element in drawn.elements():
            known = isinstance(element, svgelements.Shape) and (element.values.get(key) for key in (SOURCE, EDGE))
            if not (known and any(value is not None for value in known)):
                continue
            if (lines := known_paths.lines(element.values, element.transform, scale)) is not None:
                yield lines, element.values
                continue
            element.reify()
            if element.is_degenerate():
                continue
            path = svgelements.Path(element)  # a turned rectangle is not one any more
            path.reify()  # in place: `abs` would copy each segment once more
            yield list(_lines(path, scale)), element.values
    except (FormatError, MemoryError):
        raise
    except Exception as error:  # whatever a damaged file makes of the library
        raise FormatError(f"{name} cannot be read as SVG: {' '.join(str(error).split())[:80]}") from error


def _is_bare(every: Iterator[dict[str, Any]]) -> bool:
    """Whether there are lines, and all of them without line and filling: as programs write that drive machines."""
    drawn = [values for values in every if values.get(SOURCE) and not (values.get(WORDS) or values.get(TEMPLATE))]
    return bool(drawn) and all(Look.of(values).unseen == UNPAINTED for values in drawn)


def _draw(
    shape: Lines,
    values: dict[str, Any],
    drawing: Drawing,
    report: ImportReport,
    unseen: Unseen,
    *,
    is_bare: bool = False,
) -> None:
    """Put a shape into the drawing, or say why it is not; if all are bare, one is no less seen for that."""
    keys = (NAME, CALLED, ROLE, WORDS, HIDDEN, UNREAD, CLIPPED, TEMPLATE, COPY, LAYER)
    said, look = {key: str(values.get(key) or "") for key in keys}, Look.of(values)
    said |= {key: own for key, of in ((NAME, COPY_NAME), (CALLED, COPY_CALLED)) if (own := str(values.get(of) or ""))}
    if said[TEMPLATE] and not said[COPY]:
        return  # told at the end, unless there is a copy
    account, source = report.account, int(values[SOURCE])
    lines = [as_ring(points, closed=closed) for points, closed in shape if len(points) > 1]
    kinds: list[EntryKind] = [
        "words" if said[WORDS] else "closed outline" if closed else "open line" for _, closed in lines
    ]
    sound = all((np.abs(points) < FARTHEST).all() for points, _ in lines)
    mark = LineMark(printable_name(said[LAYER], "")[:LONGEST], look.colour, look.dash)
    numbers = [
        account.enter(source, kind, points=points if sound else None, mark=mark)
        for kind, (points, _) in zip(kinds, lines, strict=True)
    ] or [account.enter(source, "other")]
    name = f"'{printable_name(said[CALLED] or said[NAME], 'a line')}'"
    if hidden := said[HIDDEN] or ("" if is_bare else look.unseen):
        account.put(numbers, "hidden", why=hidden)
    elif said[UNREAD]:
        report.leave(name, said[UNREAD], numbers)
    elif not sound:
        report.leave(name, "one of its points is not a finite number, or is far too far away", numbers)
    elif not lines:
        account.put(numbers, "left out", why="it has no size")
    elif said[WORDS]:
        unseen.note_words(numbers, look)
        _write(said[WORDS], lines[0][0], numbers, drawing, account)
    else:
        unseen.note(lines, numbers, look, is_clipped=bool(said[CLIPPED]))
        _put(lines, numbers, said, look, drawing)


def _write(words: str, line: Floats, numbers: list[int], drawing: Drawing, account: Account) -> None:
    x, y = line.mean(axis=0).tolist()
    if words.strip():
        drawing.words.append(Word(words, (x, y), tuple(numbers)))
    else:
        account.put(numbers, "words read", why="it is empty")


def _put(lines: Any, numbers: list[int], said: dict[str, str], look: Look, drawing: Drawing) -> None:
    """Put the lines of a shape into the drawing."""
    role: StandardRole = next((role for role in get_args(StandardRole) if role == said[ROLE]), "outline")
    if role in ("notch", "drill", "sew point"):
        every = np.vstack([points for points, _ in lines])
        x, y = ((every.min(axis=0) + every.max(axis=0)) / 2).tolist()
        name = printable_name(said[CALLED] or said[NAME], "") if role != "drill" else ""
        opened = tuple(points for points, closed in lines if not closed)
        drawing.points.append(Mark(role, name, (x, y), tuple(numbers), opened if len(opened) == len(lines) else ()))
        return
    edges = edges_of_fill([points for points, _ in lines], look.fill_rule) if look.is_filled else [False] * len(lines)
    for number, (points, closed), is_edge in zip(numbers, lines, edges, strict=True):
        area = numbers[0] if is_edge and len(lines) > 1 else 0
        drawing.strokes.append(
            DrawnLine(
                points,
                role,
                said[NAME],
                closed,
                (number,),
                said[CALLED],
                area,
                look.is_ground,
                look.is_unlined,
                heads=look.heads if len(lines) == 1 else (False, False),
            )
        )


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
        if not np.isfinite(segment.sweep):
            return [(np.nan, np.nan), _point(segment.end, scale)]
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
