"""Places, units and areas of DXF files as ezdxf writes them: mirrored blocks, units of the header, true circles."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

import pytest
from ezdxf import units

from tests.make.drawings import SQUARE, area, dxf, read

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

METRES = {8: 25.4e-9, 9: 25.4e-6, 21: 1200 / 3937, 22: 100 / 3937, 23: 3600 / 3937, 24: 5280 * 1200 / 3937}
"""Units whose length ezdxf does not know, in metres (NIST SP 811, appendix B; from memory)."""


def test_words_of_a_mirrored_block_stay_in_their_piece(tmp_path: Path) -> None:
    """A block inserted with x counted backwards, and one seen from behind, keep their words inside them (ezdxf)."""

    def draw(document: Drawing, space: Modelspace) -> None:
        for name, x in (("one", 0.0), ("two", 400.0)):
            block = document.blocks.new(name)
            block.add_lwpolyline(SQUARE, close=True)
            block.add_text("left" if name == "one" else "cut 3", dxfattribs={"insert": (20, 50), "height": 5})
            space.add_blockref(name, (x, 0), {"xscale": -1} if name == "one" else {})
        space.add_lwpolyline([(600, 0), (700, 0), (700, 90), (600, 90)], close=True)
        space.add_text("cut 4", dxfattribs={"insert": (-650, 50), "height": 5, "extrusion": (0, 0, -1)})

    found = read(dxf(tmp_path / "mirrored.dxf", draw))
    cut = {round(float(piece.cut_line[:, 0].max())): piece.cut for piece in found.pieces}
    assert cut == {0: 1, 500: 3, 700: 4} and not found.report.left_out


@pytest.mark.parametrize("number", [*range(1, 17), *range(21, 25)])
def test_every_unit_of_the_header(tmp_path: Path, number: int) -> None:
    """A square of 100 mm drawn in a unit of the header is read as 100 mm; ezdxf, or else NIST, knows its length."""
    side = 0.1 / METRES[number] if number in METRES else 0.1 * (units.METER_FACTOR[number] or 0.0)

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline([(0, 0), (side, 0), (side, side), (0, side)], close=True)

    (piece,) = read(dxf(tmp_path / "unit.dxf", draw, units=number)).pieces
    assert area(piece) == pytest.approx(1e4, rel=2e-5)


@pytest.mark.parametrize(("radius", "unit"), [(5.0, 4), (50.0, 4), (300.0, 4), (2.0, 1)])
def test_circles_and_bulges_keep_their_area(tmp_path: Path, radius: float, unit: int) -> None:
    """A circle, and a ring of two half-round bulges, have the area pi r² to a hundredth of a per cent."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_circle((0, 0), radius)
        far = 3 * radius
        space.add_lwpolyline([(far, 0, 1), (far + 2 * radius, 0, 1)], format="xyb", close=True)

    pieces = list(read(dxf(tmp_path / "round.dxf", draw, units=unit)).pieces)
    true = math.pi * (radius * (25.4 if unit == 1 else 1)) ** 2
    assert [area(piece) for piece in pieces] == pytest.approx([true, true], rel=1e-4)


def test_marks_of_several_lines_are_one(tmp_path: Path) -> None:
    """A circle in four arcs on a layer for drill points is one point, and two lines that meet are one notch."""

    def draw(_: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(SQUARE, close=True)
        for quarter in range(4):
            space.add_arc((50, 60), 2, 90 * quarter, 90 * quarter + 90, dxfattribs={"layer": "drill"})
        space.add_line((40, 0), (43, 5), {"layer": "notch"})
        space.add_line((46, 0), (43, 5), {"layer": "notch"})

    (piece,) = read(dxf(tmp_path / "a.dxf", draw)).pieces
    assert len(piece.notches) == 1
    assert [tuple(round(v, 6) for v in point) for point in piece.drill_points] == [(50, 60)]


def test_arrowheads_that_the_library_adds_are_no_part_of_the_file(tmp_path: Path) -> None:
    """A file of the version R14 gets blocks for arrowheads as it is loaded: only what stands in it is counted."""
    path = dxf(tmp_path / "a.dxf", lambda _, space: space.add_lwpolyline(SQUARE, close=True))
    text = path.read_text(encoding="utf-8").replace("AC1015", "AC1014")
    path.write_text(text, encoding="utf-8")
    assert read(path).report.account.places() == {"piece": 1}


@pytest.mark.parametrize("code", ["00", "-0", "+0"])
def test_codes_with_noughts_before_them_are_counted(tmp_path: Path, code: str) -> None:
    """A group code ``00`` begins an entity as ``0`` does: the account adds up."""
    path = dxf(tmp_path / "a.dxf", lambda _, space: space.add_lwpolyline(SQUARE, close=True))
    text = path.read_text(encoding="utf-8").replace("  0\nLWPOLYLINE", f"{code}\nLWPOLYLINE")
    path.write_text(text, encoding="utf-8")
    assert read(path).report.account.places() == {"piece": 1}


def test_an_attribute_is_read_with_its_tag(tmp_path: Path) -> None:
    """A bare number in an attribute says by its tag what it counts: QTY, and not a number of the piece."""

    def draw(document: Drawing, space: Modelspace) -> None:
        document.blocks.new("tab").add_lwpolyline(SQUARE, close=True)
        placed = space.add_blockref("tab", (0, 0))
        placed.add_attrib("QTY", "4", (20, 30))

    (piece,) = read(dxf(tmp_path / "a.dxf", draw)).pieces
    assert (piece.name, piece.cut) == ("tab", 4)
