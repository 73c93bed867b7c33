"""Lengths that no body has a use for, of all tops: refused by the option's name, with figure and remedy, or told."""

from __future__ import annotations

from typing import Any

import pytest

from pieces import GARMENTS
from pieces.body.sizes import find_table
from pieces.errors import DraftError
from tests.make.figures import sized_bodies
from tests.make.lengths import in_mm

INCH = 25.4
TOPS = ("shirt", "robe", "t-shirt", "sweatshirt", "hoodie", "rib-jacket")
WOMAN = find_table("women").body("92")


def styled(name: str, asked: dict[str, Any]) -> Any:
    """A style by some of its options, lengths in inches."""
    lengths = {key: value * INCH for key, value in asked.items() if isinstance(value, (int, float))}
    return GARMENTS[name].style(**{**asked, **in_mm(lengths)})


@pytest.mark.parametrize(
    ("name", "asked", "about", "said"),
    [
        *((name, {"sleeve": 40}, "sleeve", r"40 in .* the arm of 21 3/8 in .*: make it shorter") for name in TOPS),
        *((name, {"length": 70}, "length", r"70 in .* lies on the floor.*: make it shorter") for name in TOPS),
        ("shirt", {"collar_height": 6}, "collar_height", r"6 in .*: write 4 7/8 in .* or less"),
        ("shirt", {"collar_point": 6}, "collar_point", r"6 in .*: write 4 7/8 in .* or less"),
        ("rib-jacket", {"neckline": "collar", "collar_height": 6}, "collar_height", "write 4 7/8 in"),
        ("rib-jacket", {"neck_rib_depth": 6}, "neck_rib_depth", "write 4 7/8 in"),
        ("t-shirt", {"neck_rib_depth": 5}, "neck_rib_depth", "write 4 7/8 in"),
        (
            "t-shirt",
            {"neck_rib_depth": 4.5, "neck_wider": 2},
            "neck_wider",
            "no shoulder.*: give less neck_wider",
        ),
        ("robe", {"neckline": "band", "band_width": 6}, "band_width", "write 4 7/8 in"),
        ("robe", {"neckline": "band", "front": "open", "band_width": 14}, "band_width", "wider than the front"),
        ("shirt", {"cuff_depth": 10}, "cuff_depth", r"10 in .* takes most of a sleeve of 21 3/8 in"),
        ("rib-jacket", {"rib_depth": 10}, "rib_depth", "takes most of a sleeve"),
        ("sweatshirt", {"rib_depth": 8, "sleeve": 16}, "rib_depth", "takes most of a sleeve"),
        ("rib-jacket", {"cuff_add": 12}, "cuff_add", "wrist end .*: give less cuff_add"),
        ("rib-jacket", {"cuff_add": 8, "sleeve_hem": 12}, "cuff_add", "wider than the sleeve at the wrist, 12 in"),
        ("rib-jacket", {"hem_less": 80}, "hem_less", "change hem_less"),
        ("shirt", {"facing_width": 0.5}, "facing_width", "between 3/4 in .* to reach beyond the overlap"),
        ("rib-jacket", {"facing_width": 1, "front_extension": 2}, "facing_width", "between 1 1/2 in"),
        ("shirt", {"overlap": 10}, "overlap", "overlap of 10 in .*: write 7 1/2 in"),
        ("shirt", {"hem": 20}, "hem", r"20 in .* deeper than the side of"),
        ("shirt", {"hem": 4, "sleeves": "short"}, "hem", "deeper than the back underarm"),
        ("t-shirt", {"hem": 4}, "hem", "deeper than the front underarm"),
        ("robe", {"hem": 6, "side_slit": 5}, "hem", "deeper than the side slit of 5 in"),
        ("robe", {"belt": "belt", "belt_length": 20}, "belt_length", "does not go round a waist"),
    ],
)
def test_refused(name: str, asked: dict[str, Any], about: str, said: str) -> None:
    """In one line that names the option, what it got, and what to do."""
    with pytest.raises(DraftError, match=said) as raised:
        GARMENTS[name].draft(WOMAN, styled(name, asked))
    assert raised.value.about == about and "\n" not in str(raised.value)


def test_a_band_that_leaves_a_child_no_shoulder() -> None:
    """The option of the band is named, not the neck alone."""
    with pytest.raises(DraftError, match=r"no shoulder.*: give less neck_rib_depth") as raised:
        GARMENTS["sweatshirt"].draft(find_table("children").body("98"), styled("sweatshirt", {"neck_rib_depth": 3}))
    assert raised.value.about == "neck_rib_depth"


@pytest.mark.parametrize("name", TOPS)
def test_odd_is_told(name: str) -> None:
    """A sleeve that covers the hand is drafted, and told."""
    notes = GARMENTS[name].draft(WOMAN, styled(name, {"sleeve": 27})).notes
    assert any(note.startswith("sleeve: 5 5/8 in") and "covers the hand" in note for note in notes)


@pytest.mark.parametrize("name", TOPS)
def test_usual_is_not_refused(name: str) -> None:
    """Of the smallest and the largest size of each table, drafted by the body, as far as the length is the body's."""
    bodies = list(sized_bodies())
    asked = {} if name != "rib-jacket" else {"fit": "regular"}
    for at in (0, 9, 20, 30, len(bodies) - 11, len(bodies) - 1):
        assert GARMENTS[name].draft(bodies[at][1], styled(name, asked)).pieces, bodies[at][0]


def test_a_facing_reaches_beyond_the_overlap() -> None:
    """Of fronts that overlap by 5 1/2 in the facing is an inch wider by itself; of usual ones 2 1/2 in."""
    for extension, wide in ((6.0, 6.5), (1.0, 2.5)):
        facing = GARMENTS["rib-jacket"].draft(WOMAN, styled("rib-jacket", {"front_extension": extension}))
        assert facing["front facing"].edge("hem").length == pytest.approx(wide * INCH)
