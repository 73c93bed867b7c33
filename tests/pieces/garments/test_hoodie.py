"""The hoodie: its hood on the neckline, the head through it, no cord."""

from __future__ import annotations

import pytest
import shapely

from pieces import GARMENTS
from pieces.body.sizes import find_table
from pieces.errors import DraftError

HOODIE = GARMENTS["hoodie"]
CHILD = find_table("children").body("122")


def test_hood() -> None:
    """Half the neckline long, cut in two halves, as high as the wearer's; its notch at the shoulder; no neckband."""
    pieces = HOODIE.draft(CHILD, HOODIE.style())
    hood, front = pieces["hood"], pieces["front"]
    assert hood.edge("neck").length == pytest.approx(pieces.measures["neck_opening"] / 2, abs=0.01)
    assert (hood.cut, hood.mirrored_pair) == (2, True)
    assert hood.edge("face").length >= 12 * 25.4
    assert "neckband" not in {piece.name for piece in pieces}
    (notch,) = hood.notches
    from_face = shapely.LineString(hood.edge("neck").points).project(shapely.Point(notch.point))
    assert from_face == pytest.approx(front.edge("neck").length, abs=0.01)


def test_no_cord() -> None:
    """A caution says that a hood has no cord, and why; none is on the shopping list."""
    pieces = HOODIE.draft(CHILD, HOODIE.style())
    assert any("cord is dangerous" in note for note in pieces.notes)
    assert HOODIE.trims is not None
    assert all(trim.name != "cord" for trim in HOODIE.trims(pieces, HOODIE.style()))


def test_the_head_through_the_neckline() -> None:
    """The knit's own stretch counts, as no rib is there: 4 in to 5 is enough by default, to 4 1/2 makes it wider."""
    wide, narrow = (
        HOODIE.draft(CHILD, HOODIE.style(knit_relaxed="4 in", knit_stretched=stretched)).measures
        for stretched in ("4 3/4 in", "5 1/2 in")
    )
    assert wide["neck_opening"] * 4.75 / 4 >= wide["head"]
    assert narrow["neck_opening"] < wide["neck_opening"]
    with pytest.raises(DraftError, match="give more neck_wider"):
        HOODIE.draft(CHILD, HOODIE.style(knit_relaxed="4 in", knit_stretched="5 in", neck_wider="0 in", fit="loose"))


def test_a_hood_that_does_not_fit() -> None:
    """A hood as low as a hand is refused by its name."""
    with pytest.raises(DraftError, match="hood_height") as raised:
        HOODIE.draft(CHILD, HOODIE.style(hood_height="4 in"))
    assert raised.value.about == "hood_height"
