"""Shorts: a leg that ends above the knee."""

from __future__ import annotations

import pytest
import shapely

from pieces import GARMENTS, Body

INCH = 25.4
SHORTS = GARMENTS["shorts"]
BODY = Body(waist="31 in", hip="40 in", crotch_depth="10 1/2 in", inside_leg="30 in", hip_depth="8 in", thigh="23 in")


def test_inseam() -> None:
    """A quarter of an inside leg of 30 in, or as asked."""
    for asked, inseam in (({}, 7.5), ({"inseam": "10 in"}, 10)):
        assert SHORTS.draft(BODY, SHORTS.style(**asked)).measures["inseam_length"] / INCH == pytest.approx(
            inseam, abs=0.01
        )


def test_no_knee() -> None:
    """There is no notch of a knee; the inseams come down square to the hem, so that it is level where they meet."""
    pieces = SHORTS.draft(BODY, SHORTS.style())
    for name in ("front", "back"):
        piece = pieces[name]
        assert "knee" not in {notch.name for notch in piece.notches}
        (_, y), (_, end) = piece.edge("inseam").points[-2:]
        assert y == pytest.approx(end, abs=1e-6)


def test_hem_width() -> None:
    """A hem of 24 in is 24 in round at its fold, by shapely; the default is that of long trousers at this level."""
    pieces = SHORTS.draft(BODY, SHORTS.style(hem_width="24 in"))
    fold = next(notch.point[0] for notch in pieces["front"].notches if notch.name == "hem fold")
    line = shapely.LineString([(fold, -1000), (fold, 1000)])
    legs = [shapely.Polygon(pieces[name].sew_line).intersection(line).length for name in ("front", "back")]
    assert sum(legs) / INCH == pytest.approx(24, abs=0.02)
    usual = SHORTS.draft(BODY, SHORTS.style())
    assert 0.8 * usual.measures["thigh_round"] < usual.measures["hem_round"] < usual.measures["thigh_round"]
