"""Filled areas of DXF, written by ezdxf."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from pieces.errors import FormatError
from tests.make.drawings import FRONT, SQUARE, area, dxf, read

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

HOLE = [(30.0, 30.0), (60.0, 30.0), (60.0, 60.0), (30.0, 60.0)]


def fill(space: Modelspace, *rings: list[tuple[float, float]], layer: str = "0") -> None:
    """An area within rings."""
    hatch = space.add_hatch(dxfattribs={"layer": layer})
    for ring in rings:
        hatch.paths.add_polyline_path(ring, is_closed=True)


def test_areas_alone_are_outlines(tmp_path: Path) -> None:
    """Where no line is drawn, the edges of a filled area are a piece and its hole; that is guessed, and told."""

    def draw(_: Drawing, space: Modelspace) -> None:
        fill(space, HOLE, SQUARE, layer="ring")
        hatch = space.add_hatch(dxfattribs={"layer": "disc"})
        hatch.paths.add_edge_path().add_arc((300, 50), 40, 0, 360)

    found = read(dxf(tmp_path / "a.dxf", draw))
    pieces = {piece.name: piece for piece in found.pieces}
    assert area(pieces["ring"]) == pytest.approx(10_000) and [e.kind for e in pieces["ring"].inner] == ["cutout"]
    assert area(pieces["disc"]) == pytest.approx(3.14159265 * 1600, rel=1e-3)
    assert any("2 filled areas" in said for said in found.report.guesses)


def test_areas_beside_lines_only_fill(tmp_path: Path) -> None:
    """Where lines are drawn, areas are left out, and told."""

    def draw(_: Drawing, space: Modelspace) -> None:
        space.add_polyline2d(FRONT, close=True)
        fill(space, FRONT)

    found = read(dxf(tmp_path / "a.dxf", draw))
    assert len(found.pieces) == 1 and found.report.account.count("left out") == 1


@pytest.mark.parametrize("far", [1e12, float("nan")])
def test_areas_far_away_are_left_out(tmp_path: Path, far: float) -> None:
    """And where nothing else is drawn, the file is refused in one line."""

    def draw(_: Any, space: Modelspace) -> None:
        fill(space, [(0, 0), (far, 0), (far, far)])

    with pytest.raises(FormatError, match="no piece to cut: HATCH"):
        read(dxf(tmp_path / "a.dxf", draw))


def test_an_area_beside_lines_is_named(tmp_path: Path) -> None:
    """Where there are lines, an area as large as a piece that none of them shows is left out by its layer and size."""

    def draw(_: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline(FRONT, close=True)
        for points, layer in ((FRONT, "fill"), ([(400, 0), (500, 0), (500, 150), (400, 150)], "patch")):
            space.add_hatch(dxfattribs={"layer": layer}).paths.add_polyline_path(points, is_closed=True)

    left = [(out.what, out.why) for out in read(dxf(tmp_path / "a.dxf", draw)).report.left_out]
    assert ("HATCH", "it only fills what lines show already") in left
    assert any(what == "HATCH on layer 'patch' of 100 × 150 mm" and "without a line" in why for what, why in left)
