"""Cut lines as curves, over all garments."""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely

from pieces import GARMENTS
from pieces.body.sizes import find_table
from pieces.length import mm
from pieces.piece.curve import Cubic, Line
from pieces.piece.outline import Edge
from pieces.piece.piece import Piece
from pieces.piece.recovered import recover
from pieces.piece.true_lines import NEAR, cut_curves, opened_curves, refined
from tests.make.polygons import random_star

if TYPE_CHECKING:
    from numpy.typing import NDArray

LENGTHS: tuple[dict[str, Any], ...] = (
    {},
    {"length": mm(650)},
    {"length": mm(650), "sleeve": mm(560)},
    {"inside_leg": mm(760)},
)


def drafted(name: str) -> list[Piece]:
    """The pieces of a garment as it comes."""
    style = GARMENTS[name].style
    for lengths in LENGTHS:
        try:
            return list(GARMENTS[name].draft(find_table("women-letters").body("M"), style(**lengths)))
        except TypeError:
            continue
    raise AssertionError(name)


@pytest.mark.parametrize("radius", [30.0, 210.0, 600.0])
def test_a_whole_circle_is_round(radius: float) -> None:
    """An edge that ends where it begins is a curve and no line of no length: by its radius, and its area by pi."""
    angles = np.linspace(0, 2 * np.pi, 2 * max(18, int(radius / 5)) + 1)
    edge = Edge("edge", radius * np.column_stack([np.cos(angles), np.sin(angles)]), 10.0)
    piece = Piece("round", (edge,), grain=((-9, 0), (9, 0)))
    for curves, wide in ((recover(edge.points), radius), (cut_curves(piece), radius + 10)):
        assert all(isinstance(curve, Cubic) for curve in curves)
        drawn = refined(curves, 0.001)
        assert np.abs(np.hypot(*drawn.T) - wide).max() < 0.011
        assert shapely.Polygon(drawn).area == pytest.approx(np.pi * wide**2, rel=2e-4)


@pytest.mark.parametrize("fullness", ["full", "three-quarter", "half"])
def test_a_circle_stays_round(fullness: str) -> None:
    """However small the waist, what lies an allowance beyond an arc is an arc about the same middle: by its radius."""
    made = GARMENTS["circle-skirt"]
    body = find_table("women-letters").body("XS")
    piece = next(iter(made.draft(body, made.style(fullness=fullness, panels="2"))))
    hem, waist = (next(edge for edge in piece.edges if edge.name == name) for name in ("hem", "waist"))
    for edge, sign in ((hem, 1), (waist, -1)):
        radius = float(np.hypot(*edge.points[0])) + sign * edge.allowance
        curved = [curve for curve in cut_curves(piece) if isinstance(curve, Cubic)]
        drawn = np.vstack([_many(curve) for curve in curved if abs(np.hypot(*curve.start) - radius) < 1])
        assert len(drawn) > 100
        assert np.abs(np.hypot(*drawn.T) - radius).max() < 0.011


@pytest.mark.parametrize("name", sorted(GARMENTS))
def test_near_to_what_is_checked(name: str) -> None:
    """By shapely every drawn cut line is closed, goes once round, and strays by 0.2 mm and a fit from the checked one.

    Sew lines keep all points of the draft, and pieces with curves in their sew lines have them in their cut lines.
    """
    for piece in drafted(name):
        for curves, outline in ((cut_curves(piece), piece.cut_line), (opened_curves(piece), piece.unfolded)):
            assert all(np.hypot(*np.subtract(a.end, b.start)) < 1e-6 for a, b in pairwise([*curves, curves[0]]))
            drawn = shapely.LinearRing(refined(curves, 0.001))
            assert shapely.Polygon(drawn).is_valid
            assert shapely.hausdorff_distance(drawn, shapely.LinearRing(outline), 0.02) <= NEAR
        sewn = [recover(edge.points) for edge in piece.edges]
        for edge, own in zip(piece.edges, sewn, strict=True):
            line = shapely.LineString(np.vstack([_many(curve) for curve in own]))
            assert shapely.distance(line, shapely.points(edge.points)).max() < 0.001
        curved = any(isinstance(curve, Cubic) for own in sewn for curve in own)
        assert any(isinstance(curve, Cubic) for curve in cut_curves(piece)) == curved


def _many(curve: Line | Cubic) -> NDArray[np.float64]:
    return curve.flatten() if isinstance(curve, Line) else curve.at(np.linspace(0, 1, 2001))


@pytest.mark.parametrize("name", ["rib-jacket", "t-shirt", "circle-skirt"])
def test_an_allowance_away(name: str) -> None:
    """Away from corners, the cut line is its allowance from the drafted curve, within 0.03 mm, by shapely."""
    tried = 0
    for piece in drafted(name):
        cut = shapely.LinearRing(refined(cut_curves(piece), 0.001))
        for edge in piece.edges:
            drafted_as = recover(edge.points)
            if edge.kind == "fold" or not all(isinstance(curve, Cubic) for curve in drafted_as):
                continue
            spots = np.vstack([_many(curve)[::50] for curve in drafted_as])
            ways = np.gradient(spots, axis=0)
            ways /= np.hypot(*ways.T)[:, np.newaxis]
            out = ways[:, ::-1] * (1, -1)
            if (np.diff(spots + 2 * edge.allowance * out, axis=0) * ways[1:]).sum(axis=1).min() < 0:
                continue  # so hollow that the edge keeps its own points
            for spot, way in zip(spots[12:-12], out[12:-12], strict=True):
                ray = shapely.LineString([spot, spot + 3 * (edge.allowance + 1) * way])
                met = shapely.get_coordinates(shapely.intersection(ray, cut))
                assert min(np.hypot(*(met - spot).T)) == pytest.approx(edge.allowance, abs=0.03), (piece, edge.name)
                tried += 1
    assert tried


def test_polygons_keep_their_chords() -> None:
    """An outline of one's own has no curves; its cut line is drawn chord by chord."""
    piece = Piece.from_polygon(random_star(np.random.default_rng(3), 60), "egg", unit="mm", seam="10 mm")
    assert refined(cut_curves(piece), 0.01) == pytest.approx(piece.cut_line)
