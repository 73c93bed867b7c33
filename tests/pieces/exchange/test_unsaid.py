"""What files hold without a word: blocks placed nowhere, sizes on layers, lines that close, symbols drawn larger.

Files are written by ezdxf, areas measured by shapely; symbols and view boxes: SVG 1.1, 5.5, 7.7 and 7.8 (from memory).
"""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.read.reader import import_pieces
from tests.make.drawings import SQUARE, area, dxf, read, svg

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace


def test_block_with_an_outline_that_is_placed_nowhere_is_named(tmp_path: Path) -> None:
    """It is told of by its name, and refused by a strict reading."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        block = document.blocks.new("sleeve")
        for start, end in zip(SQUARE, [*SQUARE[1:], SQUARE[0]], strict=True):
            block.add_line(start, end)

    path = dxf(tmp_path / "a.dxf", draw)
    assert any("the block 'sleeve' is never placed" in line for line in read(path, grain=0).report.guesses)
    with pytest.raises(FormatError, match="the block 'sleeve' is never placed"):
        read(path, strict=True, grain=0)


def test_block_of_an_arrow_that_is_placed_nowhere_is_clean(tmp_path: Path) -> None:
    """Drawing programs keep the heads of arrows so: an outline no larger than a mark is no piece."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        document.blocks.new("arrow").add_lwpolyline([(0, 0), (1, 0), (1, 1)], close=True)

    assert len(read(dxf(tmp_path / "a.dxf", draw), strict=True, grain=0).pieces) == 1


@pytest.mark.parametrize("called", ["SIZE_{}", "size-{}", "Size.{}", "SZ_{}"])
def test_layers_of_sizes_are_sizes(tmp_path: Path, called: str) -> None:
    """Three sizes in one another, each on a layer named by it, are refused until one is asked for."""

    def draw(document: Drawing, space: Modelspace) -> None:
        for grown, size in ((0, 36), (5, 38), (10, 40)):
            corners = [(-grown, -grown), (200 + grown, -grown), (150 + grown, 300 + grown), (-grown, 300 + grown)]
            space.add_lwpolyline(corners, close=True, dxfattribs={"layer": called.format(size)})

    path = dxf(tmp_path / "a.dxf", draw)
    with pytest.raises(FormatError, match="like the sizes of one piece"):
        read(path)
    (piece,) = read(path, size=called.format(38)).pieces
    assert area(piece) == pytest.approx(57350)


def test_lines_that_end_where_they_begin_are_closed_outlines(tmp_path: Path) -> None:
    """A full ellipse, a full arc, a spline and a polyline back at their first points are counted as closed."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_ellipse((0, 0), (100, 0), 0.5)
        space.add_arc((300, 0), 50, 0, 360)
        space.add_spline([(500, 0), (600, 0), (600, 100), (500, 0)])
        space.add_lwpolyline([(x + 700, y) for x, y in [*SQUARE, SQUARE[0]]])

    found = read(dxf(tmp_path / "a.dxf", draw), grain=0)
    assert found.report.account.kinds() == {"closed outline": 4}
    ellipse, _, _, square = map(area, found.pieces)
    assert (ellipse, square) == pytest.approx((math.pi * 5000, 1e4), rel=1e-3)


def test_path_of_svg_that_ends_where_it_begins_is_a_closed_outline(tmp_path: Path) -> None:
    """Whether or not it ends in Z."""
    path = svg(tmp_path / "a.svg", '<path d="M0 0H90V90H0V0" fill="none" stroke="black"/>')
    assert read(path, grain=0).report.account.kinds() == {"closed outline": 1}


@pytest.mark.parametrize(
    ("keep", "box", "size"),
    [
        ("", (45.0, -100.0, 145.0, -20.0), 'x="20" y="20" width="150" height="100"'),
        ("xMinYMin", (20.0, -100.0, 120.0, -20.0), 'x="20" y="20" width="150" height="100"'),
        ("xMaxYMid slice", (20.0, -115.0, 170.0, 5.0), 'x="20" y="20" width="150" height="100"'),
        ("none", (20.0, -100.0, 170.0, -20.0), 'x="20" y="20" width="150" height="100"'),
        ("", (50.0, -240.0, 350.0, 0.0), ""),
        ("xMinYMin", (0.0, -120.0, 150.0, 0.0), 'width="50%" height="50%"'),
    ],
)
def test_symbol_is_drawn_as_large_as_its_copy_says(
    tmp_path: Path, keep: str, box: tuple[float, ...], size: str
) -> None:
    """A symbol of 10 by 10 fills its copy, its proportions kept as it says; without a size it fills the drawing."""
    aspect = f'preserveAspectRatio="{keep}"' if keep else ""
    symbol = f'<symbol id="s" viewBox="5 5 10 10" {aspect}><rect x="5" y="5" width="10" height="8"/></symbol>'
    found = read(svg(tmp_path / "a.svg", f'{symbol}<use href="#s" {size}/>'), grain=0)
    assert bool(found.report.guesses) == ("slice" in keep)  # which cuts off what is too high: not followed, and said
    (piece,) = found.pieces
    low, high = piece.cut_line.min(axis=0), piece.cut_line.max(axis=0)
    assert (*low.tolist(), *high.tolist()) == pytest.approx(box)


@pytest.mark.parametrize("said", ['width="10em"', 'width="100" height="0"'])
def test_copy_of_unknown_size_is_no_clean_file(tmp_path: Path, said: str) -> None:
    """A copy that does not say how large it is drawn is told of, and refused by a strict reading."""
    symbol = '<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="8"/></symbol>'
    path = svg(tmp_path / "a.svg", f'{symbol}<use href="#s" {said}/><rect width="90" height="90"/>')
    with pytest.raises(FormatError, match="do not give its size"):
        read(path, strict=True, grain=0)


def test_line_from_edge_to_edge_may_part_two_pieces(tmp_path: Path) -> None:
    """It is told of, and refused by a strict reading; a line that ends within the piece is none of these."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        space.add_line((50, 0), (50, end))

    end = 60.0
    assert len(read(dxf(tmp_path / "within.dxf", draw), strict=True, grain=0).pieces) == 1
    end = 100.0
    with pytest.raises(FormatError, match="a line from edge to edge"):
        read(dxf(tmp_path / "across.dxf", draw), strict=True, grain=0)


def test_copy_behind_a_clip_path_is_said(tmp_path: Path) -> None:
    """A clip path on the copy alone cuts off what it shows (SVG 1.1, 14.3)."""
    inside = (
        '<clipPath id="c"><rect width="9" height="9"/></clipPath><defs><rect id="r" width="90" height="80"/></defs>'
    )
    path = svg(tmp_path / "a.svg", f'{inside}<use href="#r" clip-path="url(#c)"/>')
    with pytest.raises(FormatError, match="behind a clip path"):
        read(path, strict=True, grain=0)


RECT = '<rect x="10" y="10" width="200" height="300" fill="none" stroke="black"/>'
ON_ONE_ANOTHER = f'<g id="shell">{RECT}<text x="50" y="100">Front cut 2</text></g><g id="lining">{RECT}</g>'
ON_TWO_FOLDS = (
    f'<g id="front">{RECT}<g id="fold"><line x1="10" y1="10" x2="10" y2="310" stroke="red"/>'
    '<line x1="10" y1="310" x2="210" y2="310" stroke="red"/></g></g>'
)


@pytest.mark.parametrize(
    ("drawn", "told"),
    [
        (ON_ONE_ANOTHER, "the outline of 'lining' lies exactly on that of 'shell', and is taken for the same piece"),
        (ON_TWO_FOLDS, "'front': two lines for fold are drawn, and the longer is used"),
        (f'<g id="shell">{RECT}{RECT}</g>', ""),
    ],
)
def test_what_may_be_half(tmp_path: Path, drawn: str, told: str) -> None:
    """Two layers with one outline may be two pieces, and a piece with two folds a quarter: both are told as guessed."""
    path = tmp_path / "a.svg"
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="400mm" viewBox="0 0 600 400">'
    path.write_text(f"{head}{drawn}</svg>", encoding="utf-8")
    guessed = " ".join(read(path).report.guesses)
    assert told in guessed
    assert ("lies exactly" in guessed, "two lines for fold" in guessed) == (
        told.startswith("the outline"),
        "fold" in told,
    )


def panel(x: float, *grain: float) -> str:
    """An upright panel in SVG, and its grainline from one height to the other."""
    return (
        f'<path d="M{x} 0h100v300h-100z" stroke="black" fill="none"/>'
        f'<path id="grain {x}" d="M{x + 50} {grain[0]}V{grain[1]}" stroke="black" fill="none"/>'
    )


def test_grainlines_drawn_the_other_way_are_named(tmp_path: Path) -> None:
    """With a nap it matters which end is the top: it is the first, and drawn otherwise on one of three pieces."""
    whole = svg(tmp_path / "a.svg", panel(0, 50, 250) + panel(150, 60, 250) + panel(300, 250, 50))
    (told,) = (said for said in read(whole).report.remarks if "drawn the other way" in said)
    assert "head to foot" in told and told.count("'") == 4
    alike = svg(tmp_path / "b.svg", panel(0, 50, 250) + panel(150, 60, 250))
    assert not any("drawn the other way" in said for said in read(alike).report.remarks)


def test_a_unit_in_place_of_the_file_s_own_is_told(tmp_path: Path) -> None:
    """What is asked for counts, and what the file says is named beside it."""
    path = tmp_path / "a.csv"
    path.write_text("piece,x (in),y (in)\nflap,0,0\nflap,40,0\nflap,40,30\nflap,0,30\n")
    assert read(path, units="cm").report.units == "cm, as asked; the file itself says in"
    assert read(path, units="in").report.units == "in, as asked"


def test_properties_that_are_not_read_are_told(tmp_path: Path) -> None:
    """A property that says something and is not read is named."""
    path = tmp_path / "a.geojson"
    ring = [[0, 0], [200, 0], [200, 300], [0, 300], [0, 0]]
    feature = {"type": "Feature", "properties": {"name": "flap", "quantity": 2, "note": None},
               "geometry": {"type": "Polygon", "coordinates": [ring]}}  # fmt: skip
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))
    assert [one.what for one in read(path, units="mm").report.left_out] == ["'quantity'"]


def test_a_pair_stays_one_where_no_fold_is_found(tmp_path: Path) -> None:
    """A fold line that is none of its edges makes no fold, and takes nothing; a pair on a fold is refused."""
    path = tmp_path / "a.csv"
    path.write_text("piece,x (mm),y (mm)\n" + "".join(f'"flap, cut 1 pair",{x},{y}\n' for x, y in SQUARE))
    entry = {"in_file": "flap", "fold_line": [[900, 0], [900, 100]]}
    (piece,) = import_pieces(path, None, sidecar_of({"piece": [entry]}, "told")).pieces
    assert (piece.cut, piece.mirrored_pair) == (2, True)
    with pytest.raises(FormatError, match="left and right are alike"):
        import_pieces(path, None, sidecar_of({"piece": [entry | {"cut": 2, "pair": True}]}, "told"))
