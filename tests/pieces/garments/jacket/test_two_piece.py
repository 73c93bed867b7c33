"""Upper and under sleeve against the sleeve in one."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.garments.jacket.two_piece import BEND
from pieces.piece.pieces import walk

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

JACKET = GARMENTS["rib-jacket"]


def test_the_two_are_the_one(body: Body, style: JacketStyle) -> None:
    """Together they have its area, its wrist and its caps; each seam between is as long on either side."""
    plain = JACKET.draft(body, style)
    pieces = JACKET.draft(body, replace(style, sleeve_pieces="two"))
    upper, under, one = pieces["upper sleeve"], pieces["under sleeve"], plain["sleeve"]
    areas = [shapely.Polygon(piece.sew_line).area for piece in (upper, under, one)]
    assert areas[0] + areas[1] == pytest.approx(areas[2], rel=2e-3)
    for edge in ("wrist", "front cap", "back cap"):
        assert upper.edge(edge).length + under.edge(edge).length == pytest.approx(one.edge(edge).length, abs=0.01)
    assert max(abs(walk(seam, pieces)) for seam in pieces.seams) < 0.1
    assert {seam.name for seam in pieces.seams} >= {"front sleeve seam", "back sleeve seam"}
    assert "underarm" not in {seam.name for seam in pieces.seams}


def test_wrist_lies_in_front(body: Body, style: JacketStyle) -> None:
    """Both bend: of the upper one the front is where y rises, of the under one where it falls."""
    pieces = JACKET.draft(body, replace(style, sleeve_pieces="two"))
    middle = [float(pieces[name].edge("wrist").points[:, 1].mean()) for name in ("upper sleeve", "under sleeve")]
    assert middle[0] > BEND / 2
    assert middle[1] < -BEND / 2


def test_every_notch_is_kept(body: Body, style: JacketStyle) -> None:
    """Each notch of the sleeve is on one of the two."""
    plain = JACKET.draft(body, style)
    pieces = JACKET.draft(body, replace(style, sleeve_pieces="two"))
    parts = sorted(notch.name for name in ("upper sleeve", "under sleeve") for notch in pieces[name].notches)
    own = ["cuff seam", "underarm", *(f"{side} seam middle" for side in ("front", "back") for _ in range(2))]
    assert parts == sorted([*own, *(notch.name for notch in plain["sleeve"].notches)])
