"""Sheets: the scale, what is on each, and that together they hold every piece whole."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely

from nesting.marker.marker import Marker, Placement
from nesting.problem.problem import Problem
from pieces import Piece, PieceSet, Units
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch
from pieces.shapes.curved import ring
from pieces.shapes.shape import PlainShape
from reports.draw.kit.marks import Marks
from reports.errors import PaperError
from reports.paper.book import Printed, best_tiling, write_pdf
from reports.paper.drawing import KeptDrawing, PageLine, PageWords, box_of
from reports.paper.front import FrontHead
from reports.paper.pattern import CUT, MAGNIFY, draw_pieces, pieces_head
from reports.paper.plot import draw_marker, marker_head
from reports.paper.size import Paper, parse_paper, parse_roll
from reports.paper.tiles import RIM, column_name, tile
from tests.make.readback import POINT, Line, Page, read_pages

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

OVERLAP, MARGIN = 10.0, 10.0


@pytest.fixture
def pieces() -> PieceSet:
    """A half of 60 by 20 cm on the fold, and a triangle, with an allowance of 1 cm."""
    half = [((0, 0), (0, 200), 10), ((0, 200), (600, 200), 10), ((600, 200), (600, 0), 10), ((600, 0), (0, 0), 0)]
    back = Piece(
        "back",
        tuple(
            Edge(str(n), np.array([b, a], float), width, "fold" if not width else "seam")
            for n, (a, b, width) in list(enumerate(half))[::-1]
        ),
        grain=((100.0, 60.0), (500.0, 60.0)),
        notches=(Notch("side", (300.0, 200.0)),),
    )
    corners = [(0.0, 0.0), (330.0, 0.0), (0.0, 250.0)]
    sides = zip(corners, corners[1:] + corners[:1], strict=True)
    flap = Piece("flap", tuple(Edge(f"{a}", np.array([a, b]), 10.0) for a, b in sides), cut=2, mirrored_pair=True)
    return PieceSet("test", (back, flap))


def printed(pieces: PieceSet, paper: Paper, path: Path) -> tuple[KeptDrawing, Printed, list[Page]]:
    """The pieces on paper: the drawing, what was written, and the pages read back."""
    drawing = draw_pieces(pieces, paper, Units.METRIC)
    done = write_pdf(path, drawing, paper, pieces_head(pieces, "test: pieces", "one size", Units.INCHES))
    return drawing, done, read_pages(path)


def cut_lines(lines: list[Line]) -> list[Line]:
    """Outlines as wide as a cut line, full and black."""
    width = CUT * MAGNIFY * POINT
    return [line for line in lines if line.is_plain and line.is_closed and abs(line.width - width) < 1e-3]


def place(page: Page) -> tuple[int, int]:
    """Row and column, from 1, as the sheet itself says."""
    row, letters = re.search(r"row (\d+), column ([A-Z]+)", page.text).groups()
    return int(row), next(n for n in range(1, 99) if column_name(n) == letters)


def together(done: Printed, pages: list[Page], wanted: Callable[..., Any] = cut_lines) -> Any:
    """What all sheets show, glued as their names say."""
    paper, parts = done.tiling.paper, []
    for page in pages[1:]:
        row, column = place(page)
        right, down = ((side - 2 * MARGIN - OVERLAP) for side in (paper.width, paper.height))
        at = (column - 1) * right, -(row - 1) * down
        parts += [shapely.affinity.translate(line.seen, *at) for line in wanted(page.lines)]
    return shapely.union_all(parts)


def as_glued(done: Printed, shapes: Any) -> Any:
    """Shapes of a drawing where they lie once its sheets are glued: the first one's lower left corner is the origin."""
    left, _, _, top = done.tiling.tiles[0].window
    low = MARGIN + done.tiling.paper.high - top
    return shapely.union_all([shapely.affinity.translate(shape, MARGIN - left, low) for shape in shapes])


@pytest.mark.parametrize("size", ["a4", "letter", "a3", "21 cm x 29.7 cm", "18 cm x 23 cm"])
def test_squares_and_scale(pieces: PieceSet, tmp_path: Path, size: str) -> None:
    """The first page has squares of 100.0 mm and 4 in; viewers are asked not to scale."""
    from pypdf import PdfReader

    path = tmp_path / "it.pdf"
    _, _, pages = printed(pieces, parse_paper(size), path)
    boxes = [np.ptp(line.points, axis=0) for line in pages[0].lines if len(line.points) == 5]
    for side in (100.0, 101.6):
        assert any(box == pytest.approx([side, side], abs=0.05) for box in boxes)
    root: Any = PdfReader(path).trailer["/Root"]
    assert root["/ViewerPreferences"]["/PrintScaling"] == "/None"
    assert "scale 100 %, fit to page off" in pages[0].text and "100 mm" in pages[0].text and "4 in" in pages[0].text
    sides = sorted((parse_paper(size).width, parse_paper(size).height))
    assert all(sorted((page.width, page.height)) == pytest.approx(sides, abs=1e-3) for page in pages)
    assert len({page.width > page.height for page in pages}) == 1  # all turned the same way


def test_sheets_say_their_order(pieces: PieceSet, tmp_path: Path) -> None:
    """The map has the page of each sheet; a sheet says its own and the next, in the order of the pages."""
    _, done, pages = printed(pieces, parse_paper("a4"), tmp_path / "it.pdf")
    first = " ".join(pages[0].text.split())
    for number, sheet in enumerate(done.tiling.printed, 2):
        assert f"{sheet.name} page {number}" in first
        after = done.tiling.printed[number - 1].name if number <= len(done.tiling.printed) else ""
        said = f"page {number} of {len(pages)}, " + (f"then {after}" if after else "the last")
        assert said in " ".join(pages[number - 1].text.split())


def test_map_of_many_sheets(tmp_path: Path) -> None:
    """Where the first page has no room for the names of the sheets, a map with all of them is the second page."""
    drawing, paper = KeptDrawing(), parse_paper("a4")
    drawing.line([(0, 0), (900, -3900)])
    drawing.line([(900, 0), (0, -3900)])
    done = write_pdf(tmp_path / "it.pdf", drawing, paper, FrontHead("test", "", ["a line"] * 40, Units.METRIC))
    first, second, *sheets = read_pages(tmp_path / "it.pdf")
    told = " ".join(second.text.split())
    assert len(sheets) == len(done.tiling.printed) > 25 and done.pages == len(sheets) + 2
    for number, (sheet, page) in enumerate(zip(done.tiling.printed, sheets, strict=True), 3):
        assert f"{sheet.name} page {number}" in told and f"{sheet.name} page {number}" not in first.text
        assert f"page {number} of {done.pages}" in " ".join(page.text.split())
    assert "the second a map" in done.words


def test_squares_in_centimetres(pieces: PieceSet, tmp_path: Path) -> None:
    """For a job in centimetres both squares are of 10 cm, and the page speaks of no inch."""
    paper, path = parse_paper("a4"), tmp_path / "it.pdf"
    write_pdf(path, draw_pieces(pieces, paper, Units.METRIC), paper, pieces_head(pieces, "test", "one", Units.METRIC))
    first, *_ = read_pages(path)
    boxes = [np.ptp(line.points, axis=0) for line in first.lines if len(line.points) == 5]
    assert sum(box == pytest.approx([100, 100], abs=0.05) for box in boxes) == 2
    assert first.text.count("10 cm") == 2
    assert not re.search(r"\d in\b", first.text)


def test_true_size(pieces: PieceSet, tmp_path: Path) -> None:
    """On a roll each cut line has the piece's own area, girth and sides, to a hundredth of a mm."""
    _, done, pages = printed(pieces, parse_roll("24 in"), tmp_path / "it.pdf")
    assert done.pages == len(pages) == 1 and pages[0].width == pytest.approx(609.6, abs=1e-3)
    found = [shapely.Polygon(line.points) for line in cut_lines(pages[0].lines)]
    wanted = [shapely.Polygon(piece.cut_line) for piece in pieces]
    for piece in wanted:
        like = [line for line in found if abs(line.area - piece.area) < 1]
        sides = sorted(np.ptp(np.array(piece.exterior.coords), axis=0))
        assert len(like) == 1 and like[0].length == pytest.approx(piece.length, abs=0.01)
        assert sorted(np.ptp(np.array(like[0].exterior.coords), axis=0)) == pytest.approx(sides, abs=0.01)
    assert len(found) == 2


@pytest.mark.parametrize("size", ["a4", "letter"])
def test_pieces_are_whole_when_glued(pieces: PieceSet, tmp_path: Path, size: str) -> None:
    """Sheets laid by their names show each cut line whole; each has something of its own."""
    drawing, done, pages = printed(pieces, parse_paper(size), tmp_path / "it.pdf")
    wide = CUT * MAGNIFY * POINT
    shapes = [m.shape for m in drawing.marks if isinstance(m, PageLine) and not m.dashes and abs(m.width - wide) < 1e-3]
    wanted, found = as_glued(done, shapes), together(done, pages)
    assert len(shapes) == 2
    assert wanted.buffer(0.02).covers(found) and found.buffer(0.02).covers(wanted)
    assert len(pages) == done.pages == 1 + len(done.tiling.printed)
    assert len({place(page) for page in pages[1:]}) == len(pages) - 1
    for page in pages[1:]:
        row, column = place(page)
        right = page.width - MARGIN - OVERLAP * (column < done.tiling.columns)
        own = shapely.box(MARGIN, MARGIN + OVERLAP * (row < done.tiling.rows), right, page.height - MARGIN)
        of_pieces = [line for line in page.lines if round(line.width / POINT, 3) not in (0.3, 0.4, 0.5, 0.6)]
        assert any(line.seen.intersects(own) for line in of_pieces)


def test_label_and_marks(pieces: PieceSet, tmp_path: Path) -> None:
    """Each piece has its name and count, the half its fold; sew lines are dashed, a notch starts at the cut line."""
    _, _, pages = printed(pieces, parse_roll("36 in"), tmp_path / "it.pdf")
    (page,) = pages
    for words in ("1 back", "cut 1 on fold", "2 flap", "cut 2 (1 pair)", "fold"):
        assert words in re.sub(r"\s+", " ", page.text)
    dashed = [line for line in page.lines if line.dashes and line.grey]
    assert sum(line.seen.length for line in dashed) > 600 + 200 + 200 + 330 + 250
    edge = shapely.union_all([line.seen for line in cut_lines(page.lines)])
    ticks = [line for line in page.lines if len(line.points) == 2 and abs(line.seen.length - 5) < 0.01]
    assert any(line.seen.distance(edge) < 0.01 for line in ticks)


def test_grain_on_the_fold_is_seen(pieces: PieceSet) -> None:
    """A grainline that lies on the fold is drawn beside it, on the cloth, as long and parallel: fold and y are 0."""
    half = replace(pieces["back"], grain=((100.0, 0.0), (500.0, 0.0)))
    drawing = KeptDrawing(MAGNIFY)
    Marks.of(half, lambda points: np.asarray(points, float), opened=False).draw(drawing)
    lines = [mark.points for mark in drawing.marks if isinstance(mark, PageLine) and len(mark.points) == 2]
    ((one, other),) = [line for line in lines if np.ptp(line[:, 0]) == pytest.approx(400.0)]
    assert one[1] == pytest.approx(other[1]) and 5 < one[1] < 50


def test_no_words_in_what_is_cut_out() -> None:
    """The label of a ring stands on the ring: what stands in its hole falls out."""
    collar = ring(PlainShape("collar", seam=10.0), 900.0, 150.0)
    drawn = draw_pieces(PieceSet("test", (collar,)), parse_paper("a0"), Units.METRIC).marks
    lines = [shapely.Polygon(mark.points) for mark in drawn if isinstance(mark, PageLine) and len(mark.points) > 3]
    hole = next(each for each in lines if each.area == pytest.approx(np.pi * (450 / np.pi - 10) ** 2, rel=0.01))
    words = [mark for mark in drawn if isinstance(mark, PageWords)]
    assert any("collar" in each.words for each in words) and not any(each.shape.intersects(hole) for each in words)


def test_same_bytes(pieces: PieceSet, tmp_path: Path) -> None:
    """The same pieces give the same file."""
    for name in ("one", "two"):
        printed(pieces, parse_paper("a4"), tmp_path / name)
    assert (tmp_path / "one").read_bytes() == (tmp_path / "two").read_bytes()


def test_blank_sheets_are_skipped() -> None:
    """Two short lines in opposite corners of two by two sheets take two; a line in a strip asks for no third."""
    paper = parse_paper("a4")
    drawing = KeptDrawing()
    drawing.line([(0, 0), (10, -10)])
    drawing.line([(300, -400), (310, -410)])
    shapes = [mark.shape for mark in drawing.marks]
    tiling = tile(shapes, box_of(shapes), paper)
    assert (tiling.rows, tiling.columns) == (2, 2)
    assert [sheet.name for sheet in tiling.printed] == ["1A", "2B"]
    for far, names in ((paper.wide - 1, ["1A", "2B"]), (paper.wide + 1, ["1A", "1B", "2B"])):
        drawing.line([(paper.wide - 5, -20), (far, -30)])  # in the strip that 1B would be glued over, and beyond it
        shapes = [mark.shape for mark in drawing.marks]
        assert [sheet.name for sheet in tile(shapes, box_of(shapes), paper).printed] == names


@pytest.mark.parametrize(("long", "sheets"), [(190, 1), (190.5, 2), (370, 2), (370.5, 3)])
def test_number_of_sheets(long: float, sheets: int) -> None:
    """A4 upright prints 190 mm; each further sheet adds 180 mm, its strip taken off."""
    line = [shapely.LineString([(0, 0), (long, 0)])]
    assert tile(line, box_of(line), parse_paper("a4")).columns == sheets


def test_columns_by_letters() -> None:
    """A to Z, then AA."""
    assert [column_name(number) for number in (1, 26, 27, 52, 53, 703)] == ["A", "Z", "AA", "AZ", "BA", "AAA"]


def test_long_marker_is_split(tmp_path: Path) -> None:
    """No page is longer than 5.08 m; a marker of 12 m takes three, and is whole when they are glued."""
    problem = Problem.from_outlines(500, [[(0, 0), (4000, 0), (4000, 400), (0, 400)]], [3], [[0.0]])
    marker = Marker(problem, tuple(Placement(0, n, 0, 4000.0 * n, 0.0) for n in range(3)), 12_000.0)
    paper, path = parse_roll("24 in"), tmp_path / "it.pdf"
    drawing = draw_marker(marker, Units.METRIC)
    done = write_pdf(path, drawing, paper, marker_head("test", "12 m", Units.INCHES))
    pages = read_pages(path)
    assert len(pages) == 4 and max(page.height for page in pages) <= 5080
    wanted = as_glued(done, [shapely.box(0, -4000 * (n + 1), 400, -4000 * n).exterior for n in range(3)])
    found = together(done, pages)
    assert wanted.buffer(0.02).covers(found) and found.buffer(0.02).covers(wanted)
    assert done.tiling.tiles[0].window[0] == pytest.approx(-RIM, abs=3)


@pytest.mark.parametrize("name", ["späť č ½", "裁断", "back\x00\n\x1b[2J", "(((\\", "x" * 100, "😀"])
def test_any_name(tmp_path: Path, name: str) -> None:
    """Names in any script, or too long, or with control characters print all the same."""
    square = np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0), (0.0, 0.0)])
    pieces = PieceSet("test", (Piece(name, (Edge("all", square, 5.0),)),))
    _, done, pages = printed(pieces, parse_paper("a3"), tmp_path / "it.pdf")
    assert done.pages == len(pages) == 1 and len(cut_lines(pages[0].lines)) == 1


def test_a_sheet_that_is_drawn_on_at_its_end_alone() -> None:
    """On the last sheet the last 10 mm are its own: what is drawn only there is printed, to the right and below."""
    paper = parse_paper("a4")
    for x, y in ((paper.wide - 5, paper.high / 2), (paper.wide / 2, 5.0)):
        cut = tile([shapely.box(x - 1, y - 1, x + 1, y + 1)], (0.0, 0.0, paper.wide, paper.high), paper)
        assert [one.is_blank for one in cut.tiles] == [False]


def test_nothing_stands_out(pieces: PieceSet) -> None:
    """A roll that takes a piece at all takes its marks as well: a notch on its edge asks for no second strip.

    Half of its diamond lies outside the outline.
    """
    pair = PieceSet("test", tuple(replace(p, notches=(Notch("side", (300.0, 0.0)),)) for p in pieces if p.on_fold))
    for more in np.arange(0.0, 3.0, 0.2):
        paper = Paper("roll", 210.0 + 2 * (MARGIN + RIM) + more, 5000.0, is_roll=True)
        try:
            drawing = draw_pieces(pair, paper, Units.METRIC)
        except PaperError:
            continue
        assert best_tiling(drawing, paper).columns == 1
    assert len(drawing.marks) > 5  # the widest took it
