"""Rib bands, against the two published rules."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pieces.errors import DraftError
from pieces.piece.ribbing import BandRule, cut_depth, rib_band

INCH = 25.4


def test_published_share() -> None:
    """A 16 in neck takes about 12 in of rib: three quarters (Sewing & Craft Alliance, sewing.org)."""
    assert BandRule("share", 0.75).cut_length("neckband", 16 * INCH) == pytest.approx(12 * INCH)


def test_published_depth() -> None:
    """Finished 2 1/2 in with 1/4 in seams is cut 5 1/2 in: twice the depth + 1/2 in (home-sewing handbook)."""
    assert cut_depth(2.5 * INCH, INCH / 4) == pytest.approx(5.5 * INCH)


@pytest.mark.parametrize(("finished", "cut"), [(3, 7), (1, 3)])
def test_usual_depths(finished: float, cut: float) -> None:
    """3 in finished is cut 7, 1 in is cut 3, with 1/2 in seams: common practice, no source."""
    assert cut_depth(finished * INCH, INCH / 2) == pytest.approx(cut * INCH)


def test_subtract() -> None:
    """A hem band is 4 in less than its opening, a cuff 1 in more than the wrist: common practice, no source."""
    assert BandRule("subtract", 4 * INCH).cut_length("hem band", 54 * INCH) == pytest.approx(50 * INCH)
    assert BandRule("subtract", -INCH).cut_length("cuff", 8.5 * INCH) == pytest.approx(9.5 * INCH)


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        (BandRule("subtract", 4 * INCH), "the opening less 4 in (102 mm)"),
        (BandRule("subtract", -INCH), "the opening plus 1 in (25 mm)"),
        (BandRule("share", 0.75), "75% of the opening"),
    ],
)
def test_rules_in_words(rule: BandRule, words: str) -> None:
    """A rule says what it does."""
    assert rule.describe() == words


@pytest.mark.parametrize("rule", [BandRule("subtract", 400.0), BandRule("share", 1.6), BandRule("share", -1.0)])
def test_absurd_rules(rule: BandRule) -> None:
    """A band of no length, or longer than one and a half openings, is refused."""
    with pytest.raises(DraftError, match=r"opening of 15 3/4 in .* comes out .* long; change the amount"):
        rule.cut_length("cuff", 400.0)


@given(st.floats(100, 2000), st.floats(60, 300), st.floats(3, 20))
def test_band_is_the_rectangle_asked_for(length: float, depth: float, seam: float) -> None:
    """A band's cut line is length x depth, its sew line one seam inside (shapely)."""
    band = rib_band("hem band", length, depth, seam, cut=1)
    cut, sewn = shapely.Polygon(band.cut_line), shapely.Polygon(band.sew_line)
    assert (band.width, band.length, band.material) == (pytest.approx(length), pytest.approx(depth), "rib")
    assert cut.area == pytest.approx(length * depth)
    assert cut.buffer(-seam, join_style="mitre").symmetric_difference(sewn).area < 1e-6 * cut.area
    assert band.edge("edge").length == pytest.approx(length - 2 * seam)
