"""Each rule of the rib jacket's draft by itself, worked out by hand; the rules are common practice, no source.

Sizes are read off the pieces by shapely: of sewn or cut outlines, and of boxes round them.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from pieces import GARMENTS, Body, Piece
from pieces.errors import DraftError
from pieces.garments.jacket.fit import FITS, armhole_depth
from pieces.length import mm
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from pieces import PieceSet
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


def inches(pieces: PieceSet, measure: str) -> float:
    """A measure, inches."""
    return pieces.measures[measure] / INCH


def size(piece: Piece, *, sewn: bool = False) -> tuple[float, float]:
    """How long and how wide a piece is, inches: cut, or on its sew lines."""
    x0, y0, x1, y1 = shapely.Polygon(piece.sew_line if sewn else piece.cut_line).bounds
    return (x1 - x0) / INCH, (y1 - y0) / INCH


def test_width_by_the_larger_of_bust_and_hip(body: Body, style: JacketStyle) -> None:
    """Bust 42, hip 48, ease 5 and four seams of 1/2 are 55; bust 50 makes it 57, a straight quarter 13 3/4."""
    large = JACKET.draft(replace(body, bust=mm(50 * INCH)), style)
    assert inches(large, "body_cut_width") == pytest.approx(57)
    straight = JACKET.draft(body, replace(style, side="straight"))
    assert inches(straight, "bust_quarter") == pytest.approx(55 / 4)


def test_armhole_by_rule_and_as_measured(body: Body) -> None:
    """An eighth of the bust and 5 1/2 in: 10 for 36, 11 for 44; a measured one is taken as it is."""
    unmeasured = replace(body, armhole_depth=None)
    assert [
        armhole_depth(replace(unmeasured, bust=mm(b * INCH)), "loose", 0.0) / INCH for b in (36, 44)
    ] == pytest.approx([10, 11])
    assert armhole_depth(replace(body, armhole_depth=mm(9 * INCH)), "close", 20.0) == 9 * INCH


@pytest.mark.parametrize("neck", [12, 15, 18])
def test_the_neckline_grows_with_the_neck(body: Body, style: JacketStyle, neck: float) -> None:
    """At 15 in the sewn neckline is 2 in deep behind, 4 3/4 in front, and 4 in wide to a side: all in proportion."""
    pieces = JACKET.draft(replace(body, neck=mm(neck * INCH)), style)
    assert inches(pieces, "back_neck_depth") == pytest.approx(2 * neck / 15)
    assert inches(pieces, "front_neck_depth") == pytest.approx(4.75 * neck / 15)
    assert inches(pieces, "half_neck_width") == pytest.approx(4 * neck / 15 - 0.5)


def test_a_back_on_the_fold_has_no_seam_there(body: Body, style: JacketStyle) -> None:
    """A quarter of 55 in is cut to the fold; with a seam, half an inch more of each of two halves."""
    fold, seam = (JACKET.draft(body, replace(style, back=back))["back"] for back in ("fold", "seam"))
    assert size(fold)[1] == pytest.approx(55 / 4, abs=0.01)  # curves are flattened to 0.2 mm
    assert size(seam)[1] == pytest.approx(55 / 4 + 0.5, abs=0.01)
    assert (fold.cut, fold.mirrored_pair, seam.cut, seam.mirrored_pair) == (1, False, 2, True)


@pytest.mark.parametrize(
    ("asked", "beyond", "allowance"),
    [
        ({}, 0.5, 0.5),  # buttons: 1 in, half of it the seam of the separate facing
        ({"facing": "grown-on", "facing_width": 50.0}, 1.0, None),  # the same, folded at the front edge
        ({"closure": "zip"}, 0.0, 1.0),  # fronts meet at the zip, which is set into all of the extension
        ({"closure": "none"}, 0.0, 0.5),
    ],
)
def test_front_edges(
    body: Body, style: JacketStyle, asked: dict[str, Any], beyond: float, allowance: float | None
) -> None:
    """How far the finished edge lies beyond the centre front, and what is cut beyond it: extension 1 in, seam 1/2."""
    front = JACKET.draft(body, replace(style, **in_mm(asked)))["front"]
    sewn, cut = (shapely.Polygon(line).bounds[1] / INCH for line in (front.sew_line, front.cut_line))
    grown = 50.0 / INCH if "facing_width" in asked else 0.0
    assert -sewn - grown == pytest.approx(beyond)
    if allowance is not None:
        assert sewn - cut == pytest.approx(allowance)


@pytest.mark.parametrize("width", [30.0, 45.0])
def test_a_facing_as_wide_as_asked(body: Body, style: JacketStyle, width: float) -> None:
    """The facing asked for is drafted: its finished width, 30 or 45 mm."""
    facing = JACKET.draft(body, replace(style, facing_width=mm(width)))["front facing"]
    assert facing.edge("hem").length == pytest.approx(width)


def test_a_tab_is_folded_double(body: Body, style: JacketStyle) -> None:
    """Tabs 3 in wide by a rib 3 in deep are folded: twice 3 and two seams are cut, 7 by 4 in, one a front."""
    tab = JACKET.draft(body, replace(style, tab_width=mm(3 * INCH)))["hem tab"]
    assert size(tab) == pytest.approx((7, 4))
    assert size(tab, sewn=True) == pytest.approx((6, 3))
    assert tab.cut == 2


def test_the_hem_band_leaves_room_for_the_tabs(body: Body, style: JacketStyle) -> None:
    """Two tabs of 3 in take 6 in of the hem, which the band is not sewn to: opening and band are so much less."""
    plain, tabs = (JACKET.draft(body, replace(style, tab_width=mm(width * INCH))) for width in (0, 3))
    assert inches(plain, "hem_opening") - inches(tabs, "hem_opening") == pytest.approx(6)
    assert inches(plain, "hem_band_cut_length") - inches(tabs, "hem_band_cut_length") == pytest.approx(6)


def test_bands_reach_the_front_edges(body: Body, style: JacketStyle) -> None:
    """The hem is 53 in sewn, 13 1/4 of back and of front to a side, and half an inch beyond the centre on both: 54.

    The neckline is that much longer, too, with buttons than without a closure.
    """
    buttons, none = (JACKET.draft(body, replace(style, closure=closure)) for closure in ("buttons", "none"))
    assert inches(buttons, "hem_opening") == pytest.approx(4 * (55 / 4 - 0.5) + 2 * 0.5)
    assert inches(none, "hem_opening") == pytest.approx(4 * (55 / 4 - 0.5))
    assert inches(buttons, "neck_opening") - inches(none, "neck_opening") == pytest.approx(1)


def test_the_wrist_end(body: Body, style: JacketStyle) -> None:
    """A cuff of 9 1/2 in gathers a wrist end of 9.5 / 0.8 = 11 7/8, sewn; one that is asked for is as asked."""
    usual, asked = (JACKET.draft(body, replace(style, sleeve_hem=hem)) for hem in (None, "13 in"))
    for pieces, wide in ((usual, 11.875), (asked, 13)):
        assert pieces["sleeve"].edge("wrist").length / INCH == pytest.approx(wide)
        assert inches(pieces, "wrist_opening") == pytest.approx(wide)


def test_room_round_the_arm(body: Body, style: JacketStyle) -> None:
    """Three eighths of the arm, 4 in at the least and 6 at the most, of a child's without a least; or as asked."""
    usual = [FITS["loose"].arm_room(replace(body, upper_arm=mm(arm * INCH))) / INCH for arm in (8, 12, 16, 20)]
    assert usual == pytest.approx([4, 4.5, 6, 6])
    child = replace(body, wearer="children", upper_arm=mm(8 * INCH))
    assert FITS["loose"].arm_room(child) / INCH == pytest.approx(3)
    asked = JACKET.draft(body, replace(style, sleeve_room=mm(5 * INCH)))
    assert inches(asked, "sleeve_cut_width") == pytest.approx(16 + 2 + 5)


def test_the_sleeve_is_as_wide_as_cut(jacket: PieceSet) -> None:
    """The cap's base, sewn, is the cut width less two seams: 24 - 1 in."""
    assert size(jacket["sleeve"], sewn=True)[1] == pytest.approx(23, abs=0.01)


def test_shares_are_each_for_its_own_band(body: Body, style: JacketStyle) -> None:
    """By the share rule cuff, hem band and neckband take their own share of their opening: 0.7, 0.9 and 0.8."""
    shares: dict[str, Any] = {"cuff_share": 0.7, "hem_share": 0.9, "neck_share": 0.8}
    pieces = JACKET.draft(body, replace(style, band_rule="share", **shares))
    for band, opening, share in (("cuff", "wrist", 0.7), ("hem_band", "hem", 0.9), ("neckband", "neck", 0.8)):
        assert inches(pieces, f"{band}_cut_length") == pytest.approx(share * inches(pieces, f"{opening}_opening"))


def test_the_hem_band_uses_a_quarter_of_the_stretch(body: Body, style: JacketStyle) -> None:
    """Rib that gives twice its length: the hem band stretches 1.25 times, sewn; cuff and neckband 1.5 times.

    Cut, each is longer by two seams of 1/2 in.
    """
    pieces = JACKET.draft(
        body, replace(style, band_rule="stretch", swatch_relaxed=mm(100.0), swatch_stretched=mm(200.0))
    )
    for band, opening, times in (("hem_band", "hem", 1.25), ("cuff", "wrist", 1.5), ("neckband", "neck", 1.5)):
        assert inches(pieces, f"{band}_cut_length") - 1 == pytest.approx(inches(pieces, f"{opening}_opening") / times)


def test_a_body_too_short_for_its_armhole(body: Body, style: JacketStyle) -> None:
    """Cut 14 in long, with an armhole 10 1/2 in under a shoulder that drops 1.2: under 2 in of side are left."""
    JACKET.draft(body, replace(style, length=mm(17 * INCH)))
    with pytest.raises(DraftError, match="make the jacket longer"):
        JACKET.draft(body, replace(style, length=mm(15 * INCH)))
