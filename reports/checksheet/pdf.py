"""PDF counted with pypdf: outlines by the lines that are stroked, names by the words that stand within."""

from __future__ import annotations

import re
from operator import itemgetter
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely

from pieces.units import INCH
from reports.checksheet.counted import CountedFile, CountedPiece, counted_piece, cut_many, parts_of, placed_pieces
from reports.checksheet.joined import ROUND, ClosedLine, ReadSheet, Words, joined

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence
    from pathlib import Path

    from numpy.typing import NDArray
    from pypdf import PageObject, PdfReader

    Floats = NDArray[np.float64]

POINT = INCH / 72
"""ISO 32000-1: a unit of a page is 1/72 in."""

SQUARES = (100.0, 4 * INCH)
"""Sides of the test squares, mm."""

LEAST = 100.0
"""Nothing smaller is an outline, mm²: marks are."""

DIAMOND = 6.0
"""Diagonals of the diamonds by which sheets are taped, mm."""

THIN = 0.7
"""Lines drawn within a piece are no wider, points; its grainline is."""

SIZE = "size "
"""What the name of a layer of one size begins with."""

OF_MARKER = "fold of the cloth"
"""A line of the legend that a marker has, and pieces do not."""


def count_pdf(path: Path) -> CountedFile:
    """What a full-scale PDF holds."""
    from pypdf import PdfReader

    reader = PdfReader(path)
    sheets = [_read(page, reader) for page in reader.pages]
    squares = [square for sheet in sheets for square in sheet.squares]
    listed = dict(filter(None, (_listed(words.text) for sheet in sheets for words in sheet.words)))
    order = _layers(reader)
    numbered = [each for sheet in joined(sheets) for each in _pieces(sheet, listed, order)]
    found = [piece for *_, piece in sorted(numbered, key=itemgetter(0, 1))]
    is_marker = any(words.text == OF_MARKER for sheet in sheets for words in sheet.words)
    counted = placed_pieces(found) if is_marker else tuple(found)
    form = f"PDF {reader.pdf_header.removeprefix('%PDF-')}"
    told = tuple(_told(reader, squares, is_marker=is_marker))
    is_nest = any(line.layer.startswith(SIZE) for sheet in sheets for line in sheet.outlines) and not is_marker
    return CountedFile(path.name, form, "", told, counted, is_nest=is_nest)


def _layers(reader: PdfReader) -> list[str]:
    """The names of its layers, in the order in which they were made (ISO 32000-1, 8.11: optional content)."""
    root: Any = reader.trailer["/Root"]
    groups = root["/OCProperties"]["/OCGs"] if "/OCProperties" in root else []
    return [str(group.get_object()["/Name"]) for group in groups]


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


def _listed(text: str) -> tuple[int, tuple[str, str]] | None:
    """A line of the list of pieces, such as ``3: sleeve, cut 2 (1 pair), shell``: number, name, what is cut of it."""
    found = re.fullmatch(r"(\d+): (.+), (cut \d+.*)", text)
    return (int(found[1]), (found[2], found[3])) if found else None


def _pieces(
    sheet: ReadSheet, listed: Mapping[int, tuple[str, str]], order: Sequence[str]
) -> Iterator[tuple[int, int, CountedPiece]]:
    """Each piece by its outline, with what is written and drawn in it: its number, its layer's place among all, itself.

    What a small piece has no room for is in the list of pieces. The number is 0 where none is written.
    """
    if not sheet.outlines:
        return
    shapes = np.array([shapely.Polygon(outline.points) for outline in sheet.outlines], dtype=object)
    rooms = shapely.STRtree(shapely.buffer(shapes, ROUND))
    spots = shapely.STRtree([shapely.Point(words.x, words.y) for words in sheet.words])
    lines = shapely.STRtree([shapely.LineString(line) for line in sheet.lines])
    for at, (outline, shape) in enumerate(zip(sheet.outlines, shapes, strict=True)):
        around = rooms.query(shape, predicate="within")
        if any(sheet.outlines[other].layer == outline.layer for other in around if other != at):
            continue  # something cut out of a piece
        inside = [sheet.words[one] for one in sorted(spots.query(shape, predicate="contains"))]
        if any(words.text == "fault" for words in inside):
            continue
        number, name, said = _named(inside)
        if number in listed and not cut_many(said):
            name, said = listed[number]
        size = outline.layer.removeprefix(SIZE) if outline.layer.startswith(SIZE) else ""
        if size and not name.endswith(f" {size}"):  # pieces of a lay have their size in their names
            name = f"{name}, {size}"
        drawn = [sheet.lines[one] for one in sorted(lines.query(shape, predicate="contains"))]
        grain = max(drawn, key=lambda line: float(np.hypot(*(line[1] - line[0]))), default=None)
        place = order.index(outline.layer) if outline.layer in order else 0
        piece = counted_piece(name, cut_many(said), outline.points, grain, half="on fold" in said)
        yield number, place, piece


def _named(inside: Sequence[Words]) -> tuple[int, str, str]:
    """The number of a piece, its name, and all that is written in it: ``3  sleeve``, alone or before other words.

    A number alone is that of a piece where it is in bold: sizes along cut lines are numbers as well.
    """
    texts = [words.text for words in inside]
    said = " ".join(texts)
    for text in texts:
        if found := re.fullmatch(r"(\d+)  (\S.*?)(?: · .*)?", text):
            return int(found[1]), found[2], said
    for words, after in zip(inside, [*texts[1:], ""], strict=True):
        if words.bold and re.fullmatch(r"\d+", words.text):
            return int(words.text), after or f"piece {words.text}", said
    return 0, "no name on it", said


def _read(page: PageObject, reader: PdfReader) -> ReadSheet:
    from pypdf.generic import ContentStream

    sheet = ReadSheet()

    def write(text: str, place: Any, _: Any, font: Any, *__: Any) -> None:
        if text.strip() and not re.fullmatch(r"\d+[A-Z]+", text.strip()):  # the name of a sheet
            is_bold = "Bold" in str((font or {}).get("/BaseFont", ""))
            sheet.words.append(Words(float(place[4]) * POINT, float(place[5]) * POINT, text.strip(), is_bold))

    page.extract_text(visitor_text=write)
    is_front = any("Sheets are named" in words.text for words in sheet.words)
    resources: Any = page["/Resources"]
    layers = {key: str(group.get_object()["/Name"]) for key, group in resources.get("/Properties", {}).items()}
    _walk(ContentStream(page.get_contents(), reader).operations, layers, sheet)
    if not is_front:
        return sheet
    return ReadSheet(
        squares=sheet.squares, words=[words for words in sheet.words if words.text == OF_MARKER or _listed(words.text)]
    )


def _walk(operations: Any, layers: dict[str, str], sheet: ReadSheet) -> None:
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


def _stroked(path: Sequence[Sequence[tuple[float, float]]], layer: str, stroke: float, sheet: ReadSheet) -> None:
    for run in path:
        points = np.array(run) * POINT
        if len(points) == 2 and stroke > THIN:
            sheet.lines.append(points)
        elif len(points) > 3 and np.array_equal(points[0], points[-1]):
            wide, high = np.ptp(points, axis=0).tolist()
            if len(points) == 5 and abs(wide - DIAMOND) + abs(high - DIAMOND) < ROUND:
                sheet.diamonds.append(tuple(points[:-1].mean(axis=0).tolist()))
            if shapely.Polygon(points).area < LEAST:
                continue
            if len(points) == 5 and any(abs(wide - side) + abs(high - side) < ROUND for side in SQUARES):
                sheet.squares.append((wide, high))
            else:
                sheet.outlines.append(ClosedLine(points[:-1], layer))


def _place(operands: Sequence[Any]) -> tuple[float, float]:
    return float(operands[0]), float(operands[1])


def _curve(start: tuple[float, float], operands: Sequence[Any]) -> list[tuple[float, float]]:
    """The points along a cubic."""
    ends = np.array([start, *(_place(operands[k : k + 2]) for k in (0, 2, 4))])
    t = np.linspace(0.0, 1.0, parts_of(ends * POINT) + 1)[1:, np.newaxis]
    basis = (1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3
    return [(x, y) for x, y in sum(b * end for b, end in zip(basis, ends, strict=True)).tolist()]
