"""The gathered skirt: fullness by its ratio, panels by the cloth."""

from __future__ import annotations

from itertools import product
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body, inches
from pieces.errors import DraftError
from pieces.garments.gathered_skirt import GatheredSkirtStyle, panels_for
from tests.make.lengths import in_mm
from tests.make.skirts import along_the_waist, every_body, is_sound, some_body

INCH = 25.4
GATHERED = GARMENTS["gathered-skirt"]
BODY = Body(waist=inches(28), hip=inches(38))


def style(**asked: Any) -> GatheredSkirtStyle:
    """A style; numbers in mm."""
    return GatheredSkirtStyle(**in_mm(asked))


@pytest.mark.parametrize(("waist", "fullness", "full"), [(20, "2.5", 50.0), (25, "1.5", 37.5), (24, "3", 72.0)])
def test_fullness(waist: float, fullness: str, full: float) -> None:
    """20 in gathered 2 1/2 times is 50 in, as on a page of a teacher; so are the others by arithmetic."""
    asked = style(fullness=fullness, ease=0.0, waistband="folded", panels="2")
    drafted = GATHERED.draft(Body(waist=inches(waist), hip=inches(30), wearer="children"), asked)
    assert 2 * drafted["tier 1"].edge("waist").length / INCH == pytest.approx(full)
    assert drafted["waistband"].edge("waist").length / INCH == pytest.approx(waist)


def test_two_panels_of_49_inches() -> None:
    """Two panels 49 in long, as wide as cloth of 45 in, take 98 / 36 = 2.72 yd; three 4.08 (a sewer's page)."""
    for full, count, yards in (("2", 2, 2.72), ("3", 3, 4.08)):
        asked = style(
            fullness=full, length=46 * INCH, hem=2.5 * INCH, seam=0.5 * INCH, waistband="folded", ease=12 * INCH
        )
        drafted = GATHERED.draft(BODY, asked)
        panel = drafted["tier 1"]
        assert panel.cut == count and panel.length / INCH == pytest.approx(49)
        assert panel.cut * panel.length / 914.4 == pytest.approx(yards, abs=0.005)
        assert panel.width < 45 * INCH


def test_as_many_panels_as_the_cloth_asks() -> None:
    """A panel with its seams is no wider than the cloth, and one panel fewer would be."""
    for girth, cloth in product((40.0, 88.0, 89.0, 131.9, 132.1), (45.0, 60.0)):
        count = panels_for(girth * INCH, style(cloth_width=cloth * INCH))
        assert girth / count + 1 <= cloth + 1e-6
        assert count == 1 or girth / (count - 1) + 1 > cloth
    with pytest.raises(DraftError, match="more than 12") as raised:
        GATHERED.draft(BODY, style(fullness="3", tiers="4", tier_fullness="2"))
    assert raised.value.about == "tiers"


def test_each_tier_is_fuller_than_the_one_above() -> None:
    """Three tiers of one depth: 1 1/2 times each; the lengths add up to that of the skirt."""
    drafted = GATHERED.draft(BODY, style(tiers="3", length=24 * INCH))
    tiers = [drafted[f"tier {number}"] for number in (1, 2, 3)]
    rounds = [tier.cut * float(np.ptp(tier.sew_line[:, 1])) for tier in tiers]
    assert rounds[1] / rounds[0] == pytest.approx(1.5) and rounds[2] / rounds[1] == pytest.approx(1.5)
    assert sum(tier.edge("side").length for tier in tiers) == pytest.approx(24 * INCH)
    assert tiers[-1].edge("hem").allowance == pytest.approx(1.5 * INCH)


def test_elastic_passes_the_hip() -> None:
    """Little fullness on elastic is as wide as the hip and 2 in, and a note says so; the casing holds the elastic."""
    drafted = GATHERED.draft(Body(waist=inches(24), hip=inches(42)), style(fullness="1.5"))
    assert drafted.measures["top_round"] == pytest.approx(44 * INCH)
    assert any(note.startswith("fullness:") for note in drafted.notes)
    assert drafted["tier 1"].edge("waist").allowance == pytest.approx(1.5 * INCH)


@pytest.mark.parametrize(
    "asked",
    [{}, {"tiers": "3"}, {"waistband": "folded", "zip": "side"}, {"waistband": "two-layer", "interfacing": "cut"}],
    ids=str,
)
def test_every_size(asked: dict[str, Any]) -> None:
    """Sound in every size of every table; a waistband meets seams and middles of the gathered panels."""
    for body in every_body():
        worn = style(length=18 * INCH, **asked)
        drafted = GATHERED.draft(body, worn)
        is_sound(GATHERED, drafted, worn)
        if "waistband" in asked:
            band, skirt = along_the_waist(drafted)
            assert np.allclose(band, skirt, atol=0.5)


def test_options_that_change_nothing_are_noted() -> None:
    """A width of cloth beside a number of panels; a ratio for tiers there are none of; a zip beside elastic."""
    asked = style(panels="2", cloth_width=60 * INCH, tier_fullness="2", zip="side", interfacing="cut")
    notes = GATHERED.draft(BODY, asked).notes
    for name in ("cloth_width", "tier_fullness", "zip", "interfacing"):
        assert any(note.startswith(f"{name}:") and "changes nothing" in note for note in notes), name


def test_a_zip_ends_within_the_first_tier() -> None:
    """Four tiers of 4 in leave no room for a zip of 5 in."""
    with pytest.raises(DraftError, match="first tier") as raised:
        GATHERED.draft(BODY, style(tiers="4", length=16 * INCH, waistband="folded", tier_fullness="1.25"))
    assert raised.value.about == "tiers"


def test_tiers_are_deeper_than_their_seams() -> None:
    """Four tiers of 1 in have nothing left between two seams of 1/2 in; a hem takes half of a tier at the most."""
    for asked, about in (
        (style(tiers="4", length=4 * INCH, hem=0.0), "tiers"),
        (style(tiers="4", hem=4 * INCH), "hem"),
    ):
        with pytest.raises(DraftError, match="choose") as raised:
            GATHERED.draft(BODY, asked)
        assert raised.value.about == about and "\n" not in str(raised.value)


def test_the_order_says_how_long_the_elastic_is() -> None:
    """0.95 of a waist of 28 in, and where the label goes."""
    assert GATHERED.steps
    (casing,) = (s for s in GATHERED.steps(GATHERED.draft(BODY, style()), style()) if s.title == "Casing")
    assert "elastic 26 5/8 in (676 mm) long" in casing.text and "label" in casing.text


@settings(max_examples=15)
@given(
    body=some_body(),
    asked=st.fixed_dictionaries(
        {
            "length": st.floats(4 * INCH, 45 * INCH),
            "ease": st.floats(0, 4 * INCH),
            "seam": st.floats(3, 20),
            "hem": st.floats(0, 60),
            "cloth_width": st.floats(30 * INCH, 60 * INCH),
            "fullness": st.sampled_from(("1.5", "2", "2.5", "3")),
            "tiers": st.sampled_from("1234"),
            "tier_fullness": st.sampled_from(("1.25", "1.5", "2")),
            "panels": st.sampled_from(("by cloth", "1", "2", "3", "8")),
            "waistband": st.sampled_from(("elastic", "folded", "two-layer")),
        }
    ),
)
def test_sound_or_one_line(body: Body, asked: dict[str, Any]) -> None:
    """Any body in any style: sound pieces, or one clear line."""
    worn = style(**asked)
    try:
        drafted = GATHERED.draft(body, worn)
    except DraftError as error:
        assert "\n" not in str(error)
        return
    is_sound(GATHERED, drafted, worn)
