"""All sizes on one print: layers, kinds of line, and each size at its own size."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from pypdf import PdfReader
from pypdf.generic import ContentStream
from pytest import TempPathFactory

from pieces import GARMENTS, Units
from pieces.body.sizes import find_table
from pieces.garments import JacketStyle
from pieces.length import mm
from reports.draw.nest import line_of
from reports.paper.book import write_pdf
from reports.paper.drawing import PageWords
from reports.paper.nest import draw_nest, nest_head
from reports.paper.size import parse_paper, parse_roll
from tests.make.readback import read_pages

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.body.body import Body
    from pieces.piece.pieces import PieceSet

SIZES = ("S", "Größe M", "L 裁")


@pytest.fixture(scope="module")
def sizes(body: Body) -> dict[str, PieceSet]:
    """The jacket in three lengths."""
    lengths = (24 * 25.4, 26 * 25.4, 28 * 25.4)
    return {
        name: GARMENTS["rib-jacket"].draft(body, JacketStyle(length=mm(length), sleeve=mm(22 * 25.4)))
        for name, length in zip(SIZES, lengths, strict=True)
    }


@pytest.fixture(scope="module")
def path(sizes: dict[str, PieceSet], tmp_path_factory: TempPathFactory) -> Path:
    """Their print on a roll."""
    path = tmp_path_factory.mktemp("nest") / "it.pdf"
    paper = parse_roll("36 in")
    write_pdf(path, draw_nest(sizes, paper), paper, nest_head(sizes, "test: pieces", "three sizes", Units.INCHES))
    return path


def test_layers(path: Path) -> None:
    """Each size is a layer that is on, its sew lines one that is off (ISO 32000-1, 8.11: optional content)."""
    root: Any = PdfReader(path).trailer["/Root"]
    found = root["/OCProperties"]
    names = [str(group.get_object()["/Name"]) for group in found["/OCGs"]]
    hidden = [str(group.get_object()["/Name"]) for group in found["/D"]["/OFF"]]
    assert [name for name in names if name not in hidden] == [f"size {size}" for size in SIZES]
    assert hidden == [f"sew line, size {size}" for size in SIZES]


def test_each_size_on_its_layer(sizes: dict[str, PieceSet], path: Path) -> None:
    """A layer has the cut lines of its size alone, with that size's area, in one kind of line of its own."""
    (page,) = read_pages(path)
    kinds = set()
    for size, pieces in sizes.items():
        lines = [line for line in page.lines if line.layer == f"size {size}" and line.is_closed]
        areas = sorted(shapely.Polygon(line.points).area for line in lines)
        assert areas == pytest.approx(sorted(shapely.Polygon(p.cut_line).area for p in pieces), rel=1e-3)
        kind = {(line.dashes, round(line.width, 4)) for line in lines}
        assert len(kind) == 1 and all(line.grey == 0 for line in lines)
        kinds |= kind
    assert len(kinds) == len(sizes)
    assert all(line.layer is not None for line in page.lines if line.grey and line.dashes and line.seen.length > 100)


def test_size_is_written_along_each_cut_line(sizes: dict[str, PieceSet], path: Path) -> None:
    """Each size is written on its layer at every piece, and again and again: at least every half metre on the whole."""
    page = PdfReader(path).pages[0]
    stream = ContentStream(page.get_contents(), page.pdf)
    groups: Any = page["/Resources"]
    names = {key: str(group.get_object()["/Name"]) for key, group in groups["/Properties"].items()}
    written: Counter[str] = Counter()
    within = ""
    for operands, operator in stream.operations:
        within = names[str(operands[1])] if operator == b"BDC" else "" if operator == b"EMC" else within
        written[within] += operator == b"Tj"
    for size, pieces in sizes.items():
        along = sum(shapely.LinearRing(piece.cut_line).length for piece in pieces)
        assert written[f"size {size}"] >= len(pieces) + along / 500


def test_forty_sizes_are_told_apart() -> None:
    """No two of the most sizes that a table may have (40) share a kind of line; all are black."""
    assert len({line_of(number) for number in range(40)}) == 40


def test_on_the_fold_together(sizes: dict[str, PieceSet], path: Path) -> None:
    """All sizes of the back share their fold: each outline has an edge on one line."""
    (page,) = read_pages(path)
    longest = []
    for size, pieces in sizes.items():
        area = shapely.Polygon(pieces["back"].cut_line).area
        (back,) = [
            line for line in page.lines
            if line.layer == f"size {size}" and line.is_closed
            and abs(shapely.Polygon(line.points).area - area) < 1e-3 * area
        ]  # fmt: skip
        steps = np.diff(back.points, axis=0)
        at = int(np.argmax(np.hypot(*steps.T) * (np.abs(steps).min(axis=1) < 1e-3)))
        longest.append(tuple(np.round(back.points[at : at + 2].mean(axis=0), 3)))
    across = np.array(longest)
    assert np.ptp(across, axis=0).min() < 1e-3


def test_sheets_name_the_sizes(sizes: dict[str, PieceSet], tmp_path: Path) -> None:
    """On sheets the first page shows each size's line, and each piece names the sizes it has."""
    path = tmp_path / "it.pdf"
    write_pdf(
        path, draw_nest(sizes, parse_paper("a3")), parse_paper("a3"), nest_head(sizes, "test", "three", Units.INCHES)
    )
    first, *sheets = read_pages(path)
    assert all(f"cut line, size {size}"[:12] in first.text for size in SIZES)
    assert sum(sheet.text.count("sizes S to L") for sheet in sheets) >= len(sizes["S"])


def test_no_size_on_another() -> None:
    """Where eleven sizes share an edge, as the centre of a skirt, no size is written over another."""
    table, skirt = find_table("women"), GARMENTS["straight-skirt"]
    sizes = {size: skirt.draft(table.body(size), skirt.style()) for size in table.sizes}
    drawn = [mark.shape for mark in draw_nest(sizes, parse_paper("a0")).marks if isinstance(mark, PageWords)]
    one, other = shapely.STRtree(drawn).query(drawn, predicate="intersects")
    assert len(drawn) > 200 and (one == other).all()
