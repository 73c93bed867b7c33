"""Check sheets: figures counted from files, and the page they stand on."""

from __future__ import annotations

import re
from datetime import date
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely
from ezdxf.filemanagement import new
from pypdf import PdfReader
from pytest import TempPathFactory

from pieces import PieceSet, Units
from reports.checksheet.counted import CountedFile, CountedPiece
from reports.checksheet.dxf import count_dxf
from reports.checksheet.files import check_sheets, count_file, write_check_sheets
from reports.checksheet.pdf import count_pdf
from reports.checksheet.sheet import check_pages
from reports.checksheet.svg import count_svg
from reports.export.dxf import write_marker_dxf
from reports.export.files import graded_files, write_graded, write_pieces
from reports.export.grades import graded_set
from reports.export.svg import marker_svg
from reports.export.way import FileWay
from reports.paper.book import write_pdf
from reports.paper.nest import draw_nest, nest_head
from reports.paper.pattern import draw_pieces, pieces_head
from reports.paper.plot import draw_marker, marker_head
from reports.paper.size import parse_paper
from tests.make.exported import laid, square
from tests.make.readback import read_pages
from tests.reports.export.test_grades import drafted

if TYPE_CHECKING:
    from pathlib import Path

    from nesting.cloth.spread import Spread
    from pieces import Piece

NEAR = 0.25
"""How near sides in a file are to the checked ones, mm: 0.21, and the chords that a curve is measured by."""

DAY = date(2026, 11, 29)


@pytest.fixture(scope="module")
def folder(jacket: PieceSet, tmp_path_factory: TempPathFactory) -> Path:
    """The jacket's pieces in each form that has a check sheet."""
    folder = tmp_path_factory.mktemp("checked")
    write_pieces(jacket, [folder / "pieces.dxf", folder / "pieces.svg"])
    write_pieces(jacket, [folder / "splines.dxf"], FileWay(curves="splines"))
    for name in ("a4", "a0"):
        paper = parse_paper(name)
        drawing = draw_pieces(jacket, paper, Units.METRIC)
        write_pdf(folder / f"{name}.pdf", drawing, paper, pieces_head(jacket, "test", "one size", Units.METRIC))
    return folder


def wanted(piece: Piece) -> CountedPiece:
    """What is to be counted, from the piece as it was laid and checked."""
    way = np.diff(piece.grain, axis=0)[0] / np.hypot(*np.diff(piece.grain, axis=0)[0])
    along, across = (float(np.ptp(piece.cut_line @ axis)) for axis in (way, np.array([-way[1], way[0]])))
    return CountedPiece(piece.name, piece.cut, along, across, shapely.Polygon(piece.cut_line).area, piece.on_fold)


@pytest.mark.parametrize("name", ["pieces.dxf", "splines.dxf", "pieces.svg", "a4.pdf", "a0.pdf"])
def test_pieces_are_counted(folder: Path, jacket: PieceSet, name: str) -> None:
    """From every form come the names, counts, halves, sides and areas of the pieces as they were checked."""
    found = {piece.name: piece for piece in count_file(folder / name).pieces}
    assert sorted(found) == sorted(piece.name for piece in jacket)
    for piece in jacket:
        one, other = found[piece.name], wanted(piece)
        assert (one.many, one.half) == (other.many, other.half), name
        assert (one.length, one.width) == pytest.approx((other.length, other.width), abs=NEAR), (name, one)
        assert one.area == pytest.approx(other.area, rel=5e-4)


@pytest.mark.parametrize("name", ["elastic-trousers", "shirt"])
def test_a_piece_on_several_sheets(name: str, tmp_path: Path) -> None:
    """A piece whose name, count and grainline stand on different sheets is measured along its grain, as on a roll."""
    pieces = drafted(name, ("M",))["M"]
    for paper in (parse_paper("a4"), parse_paper("a2")):
        path = tmp_path / f"{paper.name}.pdf"
        write_pdf(path, draw_pieces(pieces, paper, Units.INCHES), paper, pieces_head(pieces, "", "", Units.INCHES))
        found = count_pdf(path).pieces
        assert [piece.name for piece in found] == [piece.name for piece in pieces]
        for one, other in zip(found, map(wanted, pieces), strict=True):
            assert (one.many, one.half) == (other.many, other.half)
            assert (one.length, one.width) == pytest.approx((other.length, other.width), abs=NEAR), one


def test_a_piece_too_small_for_words(tmp_path: Path) -> None:
    """A piece that has room for its number alone is named and counted by the list on the first page."""
    pieces, paper = PieceSet("small", (square("tab", 12, cut=3), square("large one", 200, cut=2))), parse_paper("a4")
    head = pieces_head(pieces, "small", "", Units.METRIC)
    write_pdf(tmp_path / "p.pdf", draw_pieces(pieces, paper, Units.METRIC), paper, head)
    assert [(one.name, one.many) for one in count_pdf(tmp_path / "p.pdf").pieces] == [("tab", 3), ("large one", 2)]


def test_what_a_file_holds(folder: Path, jacket: PieceSet) -> None:
    """Units, versions, marks and test squares are told from the file."""
    notches = sum(len(piece.notches) for piece in jacket)
    outlines = count_dxf(folder / "pieces.dxf")
    assert (outlines.form, outlines.unit) == ("DXF, R2000", "mm")
    assert outlines.holds[0] == f"{len(jacket)} blocks"
    assert outlines.holds[1].startswith(f"{len(jacket)} grainlines, 1 fold, {notches} notches, ")
    assert "notches: slits, up to 6 mm deep" in outlines.holds
    assert any("as 4" in words or "splines" in words for words in count_dxf(folder / "splines.dxf").holds)
    assert (count_svg(folder / "pieces.svg").unit, count_pdf(folder / "a4.pdf").form) == ("mm", "PDF 1.6")
    assert "test squares: 100.00 x 100.00 mm, 100.00 x 100.00 mm" in count_pdf(folder / "a4.pdf").holds


@pytest.mark.parametrize("spread", ["open", "tube"])
def test_markers(jacket: PieceSet, spread: Spread, tmp_path: Path) -> None:
    """Of a marker each piece is counted as often as it lies there, in DXF, SVG and print, with selvedges or without."""
    marker = laid(jacket, spread)
    lying = [item.piece.name for _, item, _, _ in marker.outlines()]
    write_marker_dxf(marker, tmp_path / "m.dxf")
    (tmp_path / "m.svg").write_text(marker_svg(marker, "test"), encoding="utf-8")
    paper = parse_paper("a4")
    write_pdf(tmp_path / "m.pdf", draw_marker(marker, Units.METRIC), paper, marker_head("test", "", Units.METRIC))
    for form in ("dxf", "svg", "pdf"):
        counted = count_file(tmp_path / f"m.{form}")
        assert {piece.name: piece.many for piece in counted.pieces} == {name: lying.count(name) for name in lying}, form
        area = sum(piece.many * piece.area for piece in counted.pieces)
        assert area == pytest.approx(sum(shapely.Polygon(outline).area for *_, outline in marker.outlines()), rel=5e-4)


def test_a_piece_turned_across_is_the_same(tmp_path: Path) -> None:
    """Along its own grainline it is as long as its twin; a tenth of a thousandth does not tell two apart."""
    document = new("R2000", units=4)
    space = document.modelspace()
    for number, (wide, high) in enumerate([(317.4999, 100.0), (100.0, 317.5001)], 1):
        left = 400.0 * number
        box = [(left, 0), (left + wide, 0), (left + wide, high), (left, high)]
        space.add_lwpolyline(box, close=True, dxfattribs={"layer": "CUT"})
        middle, way = (left + wide / 2, high / 2), ((40, 0) if wide > high else (0, 40))
        space.add_line(middle, np.add(middle, way), dxfattribs={"layer": "GRAIN"})
        space.add_text(f"{number} cuff", dxfattribs={"layer": "LABEL"}).set_placement(middle)
    document.saveas(tmp_path / "m.dxf")
    (piece,) = count_dxf(tmp_path / "m.dxf").pieces
    assert (piece.name, piece.many) == ("cuff", 2)
    assert (piece.length, piece.width) == pytest.approx((317.5, 100.0), abs=0.01)


def test_sizes(tmp_path: Path) -> None:
    """Of graded pieces the sheet has the smallest and the largest size by the rules, and of a nest every size.

    Sizes are numbers here: those along cut lines are no numbers of pieces.
    """
    sizes = dict(zip(("2", "M", "84"), drafted("shorts", ("S", "M", "XL")).values(), strict=True))
    paths = graded_files(tmp_path)
    write_graded(graded_set(sizes, "M", "pieces"), paths)
    assert count_dxf(paths[0]).sizes == ()  # rules of another export, which happen to lie there, are not its own
    for one in count_dxf(*paths).sizes:
        other = wanted(sizes[one.size][one.name])
        assert one.size in ("2", "84")
        assert (one.length, one.width) == pytest.approx((other.length, other.width), abs=NEAR)
    paper = parse_paper("a3")
    write_pdf(tmp_path / "n.pdf", draw_nest(sizes, paper), paper, nest_head(sizes, "test", "", Units.METRIC))
    found = {piece.name: piece for piece in count_pdf(tmp_path / "n.pdf").pieces}
    named = {f"{p.name}, {size}": wanted(sizes[size][p.name]) for p in sizes["M"] for size in sizes}
    assert list(found) == list(named)
    assert all(found[name].area == pytest.approx(other.area, rel=5e-4) for name, other in named.items())


def test_the_page(folder: Path, jacket: PieceSet, tmp_path: Path) -> None:
    """One page has the test square, 100 mm by pypdf, the day, each file, and a line for each piece with its sides.

    The last line has the area of all that is cut, a half twice: that of the whole pieces, by shapely.
    """
    files = [folder / "pieces.dxf", folder / "pieces.svg", tmp_path / "pieces.csv"]
    assert check_sheets([files[2]]) == []
    (path,) = write_check_sheets("Jacket", files, Units.METRIC, DAY)
    assert path == folder / "pieces-check.pdf"
    (page,) = read_pages(path)
    square = next(line for line in page.lines if line.is_closed)
    assert np.ptp(square.points, axis=0) == pytest.approx((100, 100), abs=0.01)
    for piece in count_dxf(files[0]).pieces:
        assert piece.name in page.text
        assert f"{piece.length:.1f}" in page.text and f"{piece.width:.1f}" in page.text
    whole = sum(piece.cut * shapely.Polygon(piece.unfolded).area for piece in jacket) / 100
    told = re.search(r"all that is cut\s+\d+\s+([\d.]+)", " ".join(page.text.split()))
    assert told is not None and float(told[1]) == pytest.approx(whole, rel=5e-4)
    assert "29 November 2026" in page.text
    assert "the same pieces as in pieces.dxf: no side differs by more than 0.0" in " ".join(page.text.split())
    assert PdfReader(path).trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"  # type: ignore[index]


def test_a_print_whose_counts_are_not_told() -> None:
    """A sum that lacks a piece is not given; a print is checked on paper, not in another program."""
    pieces = (CountedPiece("front", 2, 100.0, 50.0, 5000.0), CountedPiece("no name on it", 0, 9.0, 9.0, 81.0))
    _, (page,) = check_pages("Jacket", DAY, [CountedFile("p.pdf", "PDF 1.6", "", (), pieces)], Units.METRIC)
    words = [mark.words for mark in page.marks if hasattr(mark, "words")]
    last = words.index("2 pieces, all that is cut")
    assert words[last + 1] == "?" and "100.0" not in words[last:]
    assert not any("your program" in line or "a unit is" in line for line in words)


@pytest.mark.parametrize(("many", "pages"), [(1, 1), (30, 1), (60, 1), (400, 6)])
def test_every_piece_has_a_line(many: int, pages: int) -> None:
    """However many pieces there are, each has its line, within the rim; sixty are on one page."""
    pieces = tuple(CountedPiece(f"piece {n}", 2, 100.0, 50.0, 5000.0) for n in range(many))
    paper, drawn = check_pages("many", DAY, [CountedFile("m.dxf", "DXF", "mm", ("blocks",), pieces)], Units.INCHES)
    assert len(drawn) <= pages
    words = [mark.words for page in drawn for mark in page.marks if hasattr(mark, "words")]
    assert all(words.count(f"piece {n}") == 1 for n in range(many))
    for page in drawn:
        left, low, right, top = page.box
        assert min(left, low) > 5 and right < paper.width - 5 and top < paper.height - 5
