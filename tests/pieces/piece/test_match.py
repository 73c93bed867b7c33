"""Match points: on cloth with a repeat, the pattern meets across each matched seam, by the sew lines alone."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from nesting import Fabric, MaxIterations, lay_pieces, solve
from pieces import GARMENTS, Body, Piece, PieceSet
from pieces.errors import DraftError
from pieces.length import mm

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]
repeats = st.floats(5, 400)


def phase(piece: Piece, at: Any, repeat: float, axis: int = 0) -> float:
    """Where between two lines a point of a piece lies whose match point lies on one, mm."""
    assert piece.match is not None
    return float(at[axis] - piece.match[axis]) % repeat


def apart(one: float, other: float, repeat: float) -> float:
    """Distance between two phases."""
    return abs(math.remainder(one - other, repeat))


def notch(piece: Piece, name: str) -> Any:
    """A notch's place."""
    return next(n.point for n in piece.notches if n.name == name)


@given(repeat=repeats)
def test_side_seams_meet(jacket: PieceSet, repeat: float) -> None:
    """All along the side seam, at equal lengths from the underarm, front and back lie at one phase of any repeat."""
    front, back = jacket["front"], jacket["back"]
    sides = [piece.edge("side").points for piece in (front, back)]
    for share in (0.0, 0.3, 1.0):
        places = []
        for side in sides:
            along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(side, axis=0).T))])
            places.append([np.interp(share * along[-1], along, side[:, axis]) for axis in (0, 1)])
        assert apart(phase(front, places[0], repeat), phase(back, places[1], repeat), repeat) < 1e-6


@given(repeat=repeats)
def test_underarm_lies_on_a_line(jacket: PieceSet, repeat: float) -> None:
    """The underarm points of front and back lie on a line across the cloth."""
    for name in ("front", "back"):
        underarm = jacket[name].edge("armhole").points[0]
        assert apart(phase(jacket[name], underarm, repeat), 0.0, repeat) < 1e-6


@given(repeat=repeats)
def test_sleeve_meets_the_front_at_its_notch(jacket: PieceSet, repeat: float) -> None:
    """At the front armhole notch, sleeve and front lie at one phase of any repeat."""
    sleeve, front = (phase(jacket[n], notch(jacket[n], "front armhole"), repeat) for n in ("sleeve", "front"))
    assert apart(sleeve, front, repeat) < 1e-6


@given(repeat=repeats)
def test_lines_along_run_down_the_middles(jacket: PieceSet, repeat: float) -> None:
    """Centre front, centre back and the sleeve's shoulder notch lie on lines along the cloth; so both fronts agree."""
    centre_back = jacket["back"].edge("centre back").points[0]
    middles = [("front", notch(jacket["front"], "centre front")), ("back", centre_back)]
    for name, at in (*middles, ("sleeve", notch(jacket["sleeve"], "shoulder"))):
        assert apart(phase(jacket[name], at, repeat, axis=1), 0.0, repeat) < 1e-6


@settings(max_examples=20)
@given(
    bust=st.floats(32 * INCH, 50 * INCH),
    drop=st.floats(0, 2 * INCH),
    back=st.sampled_from(("fold", "seam")),
    facing=st.sampled_from(("separate", "grown-on")),
    repeat=repeats,
)
def test_any_jacket_matches(
    body: Body, style: JacketStyle, bust: float, drop: float, back: Any, facing: Any, repeat: float
) -> None:
    """Whatever the size and style, the match points agree: side seam, and notch of sleeve and front."""
    try:
        made = JACKET.draft(
            replace(body, bust=mm(bust)), replace(style, drop_shoulder=mm(drop), back=back, facing=facing)
        )
    except DraftError:
        return
    sides = [phase(made[n], made[n].edge("side").points[-1], repeat) for n in ("front", "back")]
    notches = [phase(made[n], notch(made[n], "front armhole"), repeat) for n in ("front", "sleeve")]
    assert apart(sides[0], sides[1], repeat) < 1e-6
    assert apart(notches[0], notches[1], repeat) < 1e-6


@pytest.mark.parametrize("spread", ["open", "folded"])
def test_laid_on_checks(jacket: PieceSet, spread: Spread) -> None:
    """In a marker on checks, every piece's underarm or notch lies at one phase: points moved here, with numpy alone."""
    along, across = 90.0, 60.0
    cloth = Fabric("checks", mm(1600.0), mm(10.0), repeat_along=mm(along), repeat_across=mm(across))
    names = ("front", "back", "sleeve")
    marker = solve(lay_pieces([jacket[n] for n in names], cloth, spread), MaxIterations(3), seed=1).marker
    levels: dict[str, set[float]] = {}
    for _, item, variant, outline in marker.outlines():
        piece = item.piece
        assert piece is not None
        at = notch(piece, "front armhole") if piece.name != "back" else piece.edge("side").points[-1]
        whole = piece.cut_line if variant.on_fold else piece.unfolded
        angle = math.radians(variant.turn)
        turn = np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])
        flip = (1.0, -1.0 if variant.mirrored else 1.0)
        moved, point = ((np.asarray(p, dtype=float) * flip) @ turn.T for p in (whole, at))
        laid = point - moved.min(axis=0) + outline.min(axis=0)
        # Seen from the garment's top: cloth turned end for end has its lines in the other order.
        level = (laid[0] - marker.problem.repeat.start) * (-1 if variant.turn == 180.0 else 1)
        levels.setdefault("notch" if piece.name != "back" else "underarm", set()).add(round(level % along, 3) % along)
    front = jacket["front"]
    fall = notch(front, "front armhole")[0] - front.edge("side").points[-1][0]
    for what, below in (("underarm", 0.0), ("notch", fall)):
        assert all(apart(level, below, along) < 0.01 for level in levels[what])
