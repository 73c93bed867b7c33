"""PDF counted with pypdf: outlines by the lines that are stroked, names by the words that stand within."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import shapely

from pieces.units import INCH
from reports.checksheet.counted import CountedFile, CountedPiece, counted_piece, cut_many, placed_pieces

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from numpy.typing import NDArray
    from pypdf import PageObject, PdfReader

    Floats = NDArray[np.float64]

POINT = INCH / 72
"""ISO 32000-1: a unit of a page is 1/72 in."""

PARTS = 16
"""Chords that a curve is measured by."""

SQUARES = (100.0, 4 * INCH)
"""Sides of the test squares, mm."""

ROUND = 0.05
"""Outlines on several sheets are one where they differ by less, mm: numbers in a file are rounded."""

LEAST = 100.0
"""Nothing smaller is an outline, mm²: marks are."""

THIN = 0.7
"""Lines drawn within a piece are no wider, points; its grainline is."""

SIZE = "size "
"""What the name of a layer of one size begins with."""

EDGES = ("selvedge", "fold of the cloth")
"""What is written at the edges of a cloth."""


class _Outline(NamedTuple):
    points: Floats
    layer: str


class _Found(NamedTuple):
    """A piece of a sheet: its layer, its sides along the page, the number in it, and what was measured."""

    layer: str
    box: tuple[float, float]
    number: str
    piece: CountedPiece


class _Words(NamedTuple):
    x: float
    y: float
    text: str


@dataclass
class _Sheet:
    """What is on a page: closed outlines, lines of two points, words."""

    outlines: list[_Outline] = field(default_factory=list)
    lines: list[Floats] = field(default_factory=list)
    words: list[_Words] = field(default_factory=list)
    squares: list[tuple[float, float]] = field(default_factory=list)


def count_pdf(path: Path) -> CountedFile:
    """What a full-scale PDF holds."""
    from pypdf import PdfReader

    reader = PdfReader(path)
    sheets = [_read(page, reader) for page in reader.pages]
    squares = [square for sheet in sheets for square in sheet.squares]
    found: list[_Found] = []
    for one in (one for sheet in sheets for one in _pieces(sheet)):
        same = [other for other in found if _is_same(one, other)]
        if one.number and one.number not in {other.number for other in same}:
            found = [other for other in found if other.number or other not in same]
            found.append(one)
        elif not same:
            found.append(one)
    pieces = [one.piece for one in found]
    is_marker = any(words.text in EDGES for sheet in sheets for words in sheet.words)
    counted = placed_pieces(pieces) if is_marker else tuple(pieces)
    form = f"PDF {reader.pdf_header.removeprefix('%PDF-')}"
    told = tuple(_told(reader, squares, is_marker=is_marker))
    is_nest = any(one.layer.startswith(SIZE) for one in found) and not is_marker
    return CountedFile(path.name, form, "mm", told, counted, is_nest=is_nest)


def _is_same(one: _Found, other: _Found) -> bool:
    """Whether two outlines are as one that stands on two sheets."""
    sides = np.abs(np.subtract(one.box, other.box))
    area = one.piece.area
    return one.layer == other.layer and bool(sides.max() < ROUND) and abs(area - other.piece.area) < 1e-4 * area


def _told(reader: PdfReader, squares: Sequence[tuple[float, float]], *, is_marker: bool) -> Iterator[str]:
    boxes = [page.mediabox for page in reader.pages]
    sizes = sorted({(round(float(box.width) * POINT), round(float(box.height) * POINT)) for box in boxes})
    on = " and ".join(f"{wide} x {high} mm" for wide, high in sizes)
    if is_marker:
        yield "a marker"
    yield f"{len(boxes)} page{'s' * (len(boxes) > 1)} of {on}"
    if squares:
        yield "test squares: " + ", ".join(f"{wide:.2f} x {high:.2f} mm" for wide, high in squares)
    fonts = {str(font.get_object().get("/BaseFont", "")): font.get_object() for page in reader.pages
             for font in page["/Resources"].get("/Font", {}).values()}  # type: ignore[attr-defined]  # fmt: skip
    used = {name: font for name, font in fonts.items() if "/FontDescriptor" in font}
    embedded = all("/FontFile2" in font["/FontDescriptor"].get_object() for font in used.values())
    yield f"{len(used)} typefaces, {'embedded' if embedded else 'NOT all embedded'}"


def _pieces(sheet: _Sheet) -> Iterator[_Found]:
    """Each outline of a page, with the number that is written in it if that stands on this page."""
    shapes = [shapely.Polygon(outline.points) for outline in sheet.outlines]
    for outline, shape in zip(sheet.outlines, shapes, strict=True):
        within = [other for other in sheet.outlines if other.layer == outline.layer and other is not outline]
        if any(shapely.Polygon(other.points).buffer(ROUND).contains(shape) for other in within):
            continue  # something cut out of a piece
        inside = [words.text for words in sheet.words if shape.contains(shapely.Point(words.x, words.y))]
        if "fault" in inside:
            continue
        number, name, said = _named(inside)
        name = f"{name}, {outline.layer.removeprefix(SIZE)}" if outline.layer.startswith(SIZE) else name
        grain = max(
            (line for line in sheet.lines if shapely.LineString(line).within(shape)),
            key=lambda line: float(np.hypot(*(line[1] - line[0]))),
            default=None,
        )
        half = "on fold" in said
        wide, high = np.ptp(outline.points, axis=0).tolist()
        piece = counted_piece(name, cut_many(said), outline.points, grain, half=half)
        yield _Found(outline.layer, (wide, high), number, piece)


def _named(inside: Sequence[str]) -> tuple[str, str, str]:
    """The number of a piece, its name, and all that is written in it: ``3  sleeve``, alone or before other words."""
    said = " ".join(inside)
    for at, text in enumerate(inside):
        if found := re.fullmatch(r"(\d+)  (\S.*?)(?: · .*)?", text):
            return found[1], found[2], said
        if re.fullmatch(r"\d+", text):
            return text, inside[at + 1] if at + 1 < len(inside) else f"piece {text}", said
    return "", "no name on it", said


def _read(page: PageObject, reader: PdfReader) -> _Sheet:
    from pypdf.generic import ContentStream

    sheet = _Sheet()

    def write(text: str, place: Any, *_: Any) -> None:
        if text.strip() and not re.fullmatch(r"\d+[A-Z]+", text.strip()):  # the name of a sheet
            sheet.words.append(_Words(float(place[4]) * POINT, float(place[5]) * POINT, text.strip()))

    page.extract_text(visitor_text=write)
    is_front = any("Sheets are named" in words.text for words in sheet.words)
    resources: Any = page["/Resources"]
    layers = {key: str(group.get_object()["/Name"]) for key, group in resources.get("/Properties", {}).items()}
    _walk(ContentStream(page.get_contents(), reader).operations, layers, sheet)
    return _Sheet(squares=sheet.squares) if is_front else sheet


def _walk(operations: Any, layers: dict[str, str], sheet: _Sheet) -> None:
    """Go through the operators of a page (ISO 32000-1, tables 59 and 60); all that is drawn lies on its own axes."""
    path: list[list[tuple[float, float]]] = []
    layer, grey, wide = "", 0.0, 1.0
    for operands, operator in operations:
        if operator == b"BDC" and str(operands[0]) == "/OC":
            layer = layers.get(str(operands[1]), "")
        elif operator == b"EMC":
            layer = ""
        elif operator == b"G":
            grey = float(operands[0])
        elif operator == b"w":
            wide = float(operands[0])
        elif operator == b"m":
            path.append([_place(operands)])
        elif operator == b"l":
            path[-1].append(_place(operands))
        elif operator == b"c":
            path[-1] += _curve(path[-1][-1], operands)
        elif operator == b"h":
            path[-1].append(path[-1][0])
        elif operator in (b"S", b"s", b"f", b"f*", b"n", b"B"):
            if operator in (b"S", b"s") and grey == 0.0:
                _stroked(path, layer, wide, sheet)
            path = []


def _stroked(path: Sequence[Sequence[tuple[float, float]]], layer: str, stroke: float, sheet: _Sheet) -> None:
    for run in path:
        points = np.array(run) * POINT
        if len(points) == 2 and stroke > THIN:
            sheet.lines.append(points)
        elif len(points) > 3 and np.array_equal(points[0], points[-1]) and shapely.Polygon(points).area > LEAST:
            wide, high = np.ptp(points, axis=0).tolist()
            if len(points) == 5 and any(abs(wide - side) + abs(high - side) < ROUND for side in SQUARES):
                sheet.squares.append((wide, high))
            else:
                sheet.outlines.append(_Outline(points[:-1], layer))


def _place(operands: Sequence[Any]) -> tuple[float, float]:
    return float(operands[0]), float(operands[1])


def _curve(start: tuple[float, float], operands: Sequence[Any]) -> list[tuple[float, float]]:
    """The points along a cubic."""
    ends = np.array([start, *(_place(operands[k : k + 2]) for k in (0, 2, 4))])
    t = np.linspace(0.0, 1.0, PARTS + 1)[1:, np.newaxis]
    basis = (1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3
    return [(x, y) for x, y in sum(b * end for b, end in zip(basis, ends, strict=True)).tolist()]
