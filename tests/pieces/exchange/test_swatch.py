"""Bands held against a swatch of the rib; ratios of the body from ANSUR II (Gordon and others 2014)."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pieces import GARMENTS, Body, PieceSet
from pieces.errors import DraftError
from pieces.length import mm
from pieces.piece.ribbing import HAND, BandRule, Swatch
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from pieces.body.ranges import Wearer
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


def warnings(pieces: PieceSet) -> list[str]:
    """The notes that hold a band against the swatch."""
    return [note for note in pieces.notes if "the swatch gave" in note]


def pulled(style: JacketStyle, ratio: float, **others: Any) -> JacketStyle:
    """A style with a swatch of that ratio."""
    return replace(style, swatch_relaxed=mm(100.0), swatch_stretched=mm(100.0 * ratio), **in_mm(others))


@pytest.mark.parametrize(("ratio", "share"), [(5 / 3, 3 / 4), (2.0, 2 / 3)])
def test_half_the_stretch_is_the_published_share(body: Body, style: JacketStyle, ratio: float, share: float) -> None:
    """Half of the stretch makes bands of 2/3 to 3/4 of their edge (Sewing & Craft Alliance, sewing.org)."""
    pieces = JACKET.draft(body, pulled(style, ratio, band_rule="stretch"))
    for band, opening in (("cuff", "wrist_opening"), ("neckband", "neck_opening")):
        sewn = pieces.measures[f"{band}_cut_length"] - 2 * style.seam
        assert sewn / pieces.measures[opening] == pytest.approx(share)


@given(st.floats(200, 2000), st.floats(1.05, 2.5), st.floats(0, 40))
def test_sewn_band_stretches_to_its_opening(opening: float, times: float, seams: float) -> None:
    """By the rule of stretch, the band less its seams, stretched, is the opening."""
    length = BandRule("stretch", times, seams).cut_length("hem band", opening)
    assert (length - seams) * times == pytest.approx(opening)


def test_what_must_stretch_too_far_is_said(body: Body, style: JacketStyle) -> None:
    """The check values: 21.3 in of neckband, sewn 20.3, on 23.3 in stretch 23.33 / 20.33 = 1.15 times, over 1.12."""
    (note,) = (n for n in warnings(JACKET.draft(body, pulled(style, 1.12))) if n.startswith("neckband"))
    assert "sewn 20 3/8 in (516 mm)" in note
    assert "1.15 times to meet its opening of 23 3/8 in" in note
    assert "the swatch gave 1.12: cut it longer" in note


def test_hem_within_the_limit_is_not(body: Body, style: JacketStyle) -> None:
    """A hem of 54 in and 49 in of sewn band stretch 1.102 times: within 1.12, beyond 1.1."""
    beyond, within = (warnings(JACKET.draft(body, pulled(style, ratio))) for ratio in (1.1, 1.12))
    assert [any(note.startswith("hem band") for note in notes) for notes in (beyond, within)] == [True, False]


def test_stretchy_rib_gets_no_warning(body: Body, style: JacketStyle) -> None:
    """Rib that gives twice its length meets every opening of the jacket and passes the hand, and that is said."""
    assert warnings(JACKET.draft(body, pulled(style, 2.0))) == ["rib: the swatch gave 2.00 times, enough for each band"]


def test_cuff_must_pass_the_hand(body: Body, style: JacketStyle) -> None:
    """A cuff sewn as long as a bare wrist stretches 1.205 times over the hand: more than 1.2, less than 1.21."""
    tight = [n for n in warnings(JACKET.draft(body, pulled(style, 1.2))) if "hand" in n]
    assert len(tight) == 1
    assert (
        "1.21 times to pass a hand of 10 1/4 in (260 mm), if the wrist was measured bare (ANSUR II: 1.205 times)"
        in tight[0]
    )
    assert not [n for n in warnings(JACKET.draft(body, pulled(style, 1.21))) if "hand" in n]


def test_cuff_smaller_than_the_hand_itself(body: Body, style: JacketStyle) -> None:
    """A cuff cut 1 in less than the wrist, sewn 6 1/2, must stretch 8.5 / 6.5 = 1.31 times whatever was measured."""
    (note,) = (n for n in warnings(JACKET.draft(body, pulled(style, 1.25, cuff_add=-INCH))) if "hand" in n)
    assert "1.31 times to pass a hand of 8 1/2 in" in note


@pytest.mark.parametrize(("wearer", "hand", "wrist"), [("men", 212.3, 175.9), ("women", 186.6, 154.8)])
def test_hand_over_wrist(wearer: Wearer, hand: float, wrist: float) -> None:
    """Hand over wrist: means of ANSUR II, men and women."""
    assert HAND[wearer] == pytest.approx(hand / wrist, abs=0.001)


@given(st.floats(100, 600), st.floats(100, 900), st.floats(1.01, 4))
def test_figure_and_limit_never_look_alike(sewn: float, girth: float, ratio: float) -> None:
    """Where a band stretches too far, the figure told is larger than the limit told."""
    for note in Swatch(100, 100 * ratio).note("cuff", sewn, "meet its opening", girth):
        told = float(note.split("must stretch ")[1].split()[0])
        assert told > float(note.split("the swatch gave ")[1].split(":")[0])


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        ({"swatch_relaxed": 100.0}, "swatch_relaxed is given without swatch_stretched"),
        ({"swatch_stretched": 100.0}, "swatch_stretched is given without swatch_relaxed"),
        ({"swatch_relaxed": 100.0, "swatch_stretched": 90.0}, r"stretches 0\.90 times; rib stretches more than 1"),
        ({"swatch_relaxed": 100.0, "swatch_stretched": 100.0}, r"stretches 1\.00 times; rib stretches more than 1"),
        ({"swatch_relaxed": 10.0, "swatch_stretched": 100.0}, "at most 4 times: measure again"),
        ({"swatch_relaxed": 0.0, "swatch_stretched": 100.0}, "swatch_relaxed must be more than 0"),
        (
            {"swatch_relaxed": float("nan"), "swatch_stretched": 100.0},
            "swatch_relaxed of nan mm is not a plausible size",
        ),
        ({"band_rule": "stretch"}, "needs a swatch: add swatch_relaxed and swatch_stretched"),
    ],
)
def test_swatch_that_makes_no_sense(style: JacketStyle, asked: dict[str, Any], why: str) -> None:
    """Half a swatch, one that stretches not at all or absurdly, or none where the rule needs one: one line each."""
    with pytest.raises(DraftError, match=why) as error:
        replace(style, **in_mm(asked))
    assert "\n" not in str(error.value)
