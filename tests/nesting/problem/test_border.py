"""Pieces on a border print: each with its edge on it as sewn, whichever way it was drafted; judged by the check too."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.errors import CheckError, SpreadError
from nesting.marker.marker import Marker
from nesting.problem.border import off_border
from nesting.problem.lay import lay_pieces
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import Asked, LaidMarker, verify
from nesting.verify.verdict import holding
from pieces import Piece
from pieces.length import mm
from pieces.piece.outline import Edge

LAWN = Fabric("lawn", mm(1000.0), mm(10.0), border=mm(60.0))
HEM = 40.0


def panel(name: str = "panel", *, turn: float = 0.0, dip: float = 0.0, **more: object) -> Piece:
    """A skirt panel of 600 by 300, its hem 40 deep; `dip` curves the hem out in its middle, `turn` turns the draft."""
    corners = np.array([(0, 0), (600, 0), (600 + dip, 150), (600, 300), (0, 300)], dtype=float)
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    points = corners @ np.array([[cos, sin], [-sin, cos]])
    rims = [("side", [0, 1], 10.0), ("hem", [1, 2, 3], HEM), ("side", [3, 4], 10.0), ("waist", [4, 0], 10.0)]
    edges = tuple(Edge(edge, points[numbers], allowance) for edge, numbers, allowance in rims)
    grain = ((0.0, 0.0), (cos, sin))
    return Piece(name, edges, grain=grain, border="hem", **more)  # type: ignore[arg-type]


def asked(pieces: list[Piece], spread: str = "open") -> Asked:
    """What a marker of one garment has to give."""
    return Asked.of(pieces, LAWN, spread)


@pytest.mark.parametrize("turn", [0.0, 90.0, 180.0, 37.0])
@pytest.mark.parametrize(("pair", "dip"), [(False, 0.0), (True, 0.0), (True, 20.0)])
def test_hem_on_the_border(turn: float, pair: bool, dip: float) -> None:
    """A hem at 60 with 40 to turn up ends 20 from the cloth's edge; where it is bent, its corner reaches farther."""
    piece = panel(turn=turn, dip=dip, cut=2, mirrored_pair=pair)
    marker = solve(lay_pieces([piece], LAWN, "open"), MaxIterations(2)).marker
    verify(marker, [piece], LAWN, "open")
    lows = [float(outline[:, 1].min()) for *_, outline in marker.outlines()]
    corner = HEM / math.cos(math.atan2(dip, 150.0))
    assert lows == pytest.approx([60.0 - corner] * 2, abs=1e-6)
    assert 2 * 320.0 - 1e-6 < marker.length < 2 * 320.0 + 12.0
    assert off_border(piece) == pytest.approx(dip, abs=1e-9)


@pytest.mark.parametrize("shrinkage", [0.0, 5.0])
def test_a_hem_that_is_cut_on(shrinkage: float) -> None:
    """Where the hem's line is its raw edge, what is turned up of it lies beyond the border, grown with the piece."""
    drawn = panel()
    edges = tuple(replace(edge, allowance=0.0, turned=30.0) if edge.name == "hem" else edge for edge in drawn.edges)
    fabric = replace(LAWN, shrinkage=(0.0, shrinkage))
    piece = replace(drawn, edges=edges)
    marker = solve(lay_pieces([piece], fabric, "open"), MaxIterations(2)).marker
    verify(marker, [piece], fabric, "open")
    (outline,) = (outline for *_, outline in marker.outlines())
    assert float(outline[:, 1].min()) == pytest.approx(60.0 - 30.0 / (1 - shrinkage / 100))


def test_half_on_a_fold_is_opened_out() -> None:
    """A half drawn on the fold lies opened out, its whole hem on the border."""
    corners = np.array([(0, 0), (600, 0), (600, 150), (0, 150)], dtype=float)
    rims = [("centre", "fold", 0.0), ("hem", "seam", HEM), ("side", "seam", 10.0), ("waist", "seam", 10.0)]
    edges = tuple(
        Edge(name, corners[[i, (i + 1) % 4]], allowance, kind=kind)  # type: ignore[arg-type]
        for i, (name, kind, allowance) in enumerate(rims)
    )
    piece = Piece("front", edges, border="hem")
    marker = solve(lay_pieces([piece], LAWN, "open"), MaxIterations(2)).marker
    verify(marker, [piece], LAWN, "open")
    assert marker.length == pytest.approx(320.0)


def test_others_lie_as_ever() -> None:
    """A panel without the edge lies along the cloth, at any height; on cloth without a border all do."""
    pieces = [panel(), replace(panel("lining"), border="")]
    problem = lay_pieces(pieces, LAWN, "open")
    verify(solve(problem, MaxIterations(2)).marker, pieces, LAWN, "open")
    plain = lay_pieces(pieces, replace(LAWN, border=mm(0.0)), "open")
    ways = [item.variants for item in (*problem.items, *plain.items)]
    assert [{way.turn % 180 for way in each} for each in ways] == [{90.0}, {0.0}, {0.0}, {0.0}]
    assert [any(way.high > way.low for way in each) for each in ways] == [False, True, True, True]


@pytest.mark.parametrize(
    ("fabric", "spread", "says"),
    [
        (LAWN, "folded", "has a border along one selvedge: lay it open"),
        (LAWN, "face-to-face", "has a border along one selvedge: lay it open"),
        (replace(LAWN, nap=True), "open", "has a border, on which pieces lie across the cloth"),
        (replace(LAWN, repeat_across=mm(90.0)), "open", "has a border and a pattern across"),
        (replace(LAWN, border=mm(45.0)), "open", "reaches 1/4 in .* beyond the usable cloth"),
        (replace(LAWN, border=mm(600.0)), "open", "but there are .* up to the other selvedge"),
    ],
)
def test_refused(fabric: Fabric, spread: str, says: str) -> None:
    """Layers that have the border elsewhere, a nap, and no room below or above it: a line each."""
    with pytest.raises(SpreadError, match=says):
        lay_pieces([panel(match=(0.0, 150.0))], fabric, spread)  # type: ignore[arg-type]


def moved(marker: Marker, y: float) -> LaidMarker:
    """A marker with its first piece elsewhere across the cloth."""
    first, *others = marker.placements
    return LaidMarker.of(Marker(marker.problem, (replace(first, y=first.y + y), *others), marker.length))


def test_the_check_sees_what_is_off() -> None:
    """A panel moved off the border by 1 mm, and one upside down, are refused by the check."""
    pieces = [panel()]
    marker = solve(lay_pieces(pieces, LAWN, "open"), MaxIterations(2)).marker
    assert "border" in [one.what for one in holding(LaidMarker.of(marker), asked(pieces))]
    with pytest.raises(CheckError, match=r"edge 'hem' of 'panel' lies 1\.00 mm off the border"):
        list(holding(moved(marker, 1.0), asked(pieces)))
    over = replace(pieces[0], border="waist")
    far = replace(LAWN, border=mm(660.0))
    with pytest.raises(CheckError, match="turned away from the border"):
        list(holding(LaidMarker.of(marker), Asked.of([over], far, "open")))
