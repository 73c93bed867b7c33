"""Facings: their shape against the pieces they are sewn to, by shapely."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.body.sizes import find_table
from pieces.errors import DraftError
from pieces.garments.jacket.facing import to_front_edge
from pieces.length import mm
from pieces.piece.pieces import walk

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


@pytest.mark.parametrize("closure", ["buttons", "zip", "none"])
def test_facings_lie_on_the_pieces_they_face(closure: str, body: Body, style: JacketStyle) -> None:
    """Sewn, each facing lies within its piece; it shares the neckline, and the shoulder for 2 in."""
    asked = replace(style, closure=closure, back_facing="facing")  # type: ignore[arg-type]
    pieces = JACKET.draft(body, asked)
    for name, whole in (("front facing", "front"), ("back facing", "back")):
        facing, piece = (shapely.Polygon(pieces[each].sew_line) for each in (name, whole))
        assert facing.difference(piece).area < 1.0
        assert pieces[name].edge("shoulder").length == pytest.approx(2 * INCH)
        assert pieces[name].edge("neck").length == pytest.approx(pieces[whole].edge("neck").length)


def test_front_facing_has_no_spike(body: Body, style: JacketStyle) -> None:
    """Nowhere is its corner sharper than 45 degrees, and nowhere is it narrower than 1 1/2 in, sewn."""
    points = JACKET.draft(body, style)["front facing"].sew_line
    steps = np.diff(np.vstack([points, points[:1]]), axis=0)
    ahead = np.roll(steps, -1, axis=0)
    turns = np.degrees(np.arctan2(steps[:, 0] * ahead[:, 1] - steps[:, 1] * ahead[:, 0], (steps * ahead).sum(axis=1)))
    assert turns.max() < 135
    eroded = shapely.Polygon(points).buffer(-0.74 * INCH)
    assert eroded.geom_type == "Polygon" and not eroded.is_empty


def test_facings_meet_at_the_shoulder() -> None:
    """In every third size of all tables the facings' shoulder seams are of one length, where there are both."""
    for table in ("women", "men", "children"):
        sizes = find_table(table)
        for size in sizes.sizes[::3]:
            own = {"length": "38 cm", "rib_depth": "5 cm"} if table == "children" else {}
            style = JACKET.style(**{"length": "65 cm", "back_facing": "facing", **own})
            pieces = JACKET.draft(sizes.body(size), style)
            seams = [seam for seam in pieces.seams if "facing" in str(seam.first)]
            assert len(seams) == 4
            assert all(abs(walk(seam, pieces)) < 0.1 for seam in seams)


def test_a_facing_too_wide_is_refused(body: Body, style: JacketStyle) -> None:
    """A facing wider than the neckline and 2 in of shoulder is refused, and says how wide it may be."""
    with pytest.raises(DraftError, match="facing_width must be between 3/4 in"):
        JACKET.draft(body, replace(style, facing_width=mm(12 * INCH)))


def test_the_neckline_runs_on_to_the_front_edge() -> None:
    """It is drawn on level by the overlap; without one it stays as it is."""
    line = np.array([(0.0, 90.0), (120.0, 0.0)])
    assert to_front_edge(line, 12.0).tolist() == [[0.0, 90.0], [120.0, 0.0], [120.0, -12.0]]
    assert to_front_edge(line, 0.0) is line
