"""The apron, which needs no measurement of a body."""

from __future__ import annotations

from itertools import product
from typing import Any, get_args, get_type_hints

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.errors import DraftError
from pieces.garments.apron import ApronStyle
from pieces.length import mm
from tests.make.lengths import in_mm
from tests.make.sound import plain_option_notes, sound, sound_or_refused

INCH = 25.4
APRON = GARMENTS["apron"]
CHOICES = {name: get_args(get_type_hints(ApronStyle)[name]) for name in ("armhole", "neck", "pockets")}


def apron(**asked: Any) -> ApronStyle:
    """A style by some of its options, lengths in mm."""
    return ApronStyle(**in_mm(asked))


@pytest.mark.parametrize("asked", list(product(*CHOICES.values())))
@pytest.mark.parametrize("bib", [0.0, 11 * INCH])
def test_every_style(asked: tuple[str, ...], bib: float) -> None:
    """Sound in all choices, with a bib and without, for no body."""
    sound(APRON, Body(), apron(bib_height=bib, **dict(zip(CHOICES, asked, strict=True))))


def test_sizes_and_hems() -> None:
    """34 in long and 28 wide; hems of 1 in turned under by 3/8, sides of 1/4 in turned twice: cut 36 3/4 by 29 in."""
    piece = APRON.draft(Body(), apron())["apron"]
    low, across, high, _ = shapely.Polygon(piece.sew_line).bounds
    assert (high - low, 2 * (shapely.Polygon(piece.sew_line).bounds[3] - across)) == pytest.approx(
        (34 * INCH, 28 * INCH)
    )
    assert (piece.length / INCH, piece.width / INCH) == pytest.approx((36.75, 29))
    assert piece.edge("bib").length == pytest.approx(5 * INCH)


def test_a_straight_side_keeps_less_cloth_than_none_and_more_than_a_curve() -> None:
    """A curve swings in further than a straight line; both run out upright under the upper hem."""
    curved, straight = (APRON.draft(Body(), apron(armhole=kind))["apron"] for kind in CHOICES["armhole"])
    whole = 34 * 14 * INCH**2
    areas = [shapely.Polygon(piece.sew_line).area for piece in (curved, straight)]
    assert areas[0] < areas[1] < whole
    for piece in (curved, straight):
        x, y = piece.edge("armhole").points[-2] - piece.edge("armhole").points[-1]
        assert x > 0 and abs(y) < 0.06 * x


def test_the_loop_passes_the_head() -> None:
    """Loop and bib less two straps, 24 + 10 - 2 in, pass a head of 22 in; less is refused, ties are not."""
    body = Body(head=mm(22 * INCH))
    assert next(
        size for size in APRON.draft(body, apron()).finished if size.name == "loop and bib"
    ).garment == pytest.approx(32 * INCH)
    with pytest.raises(DraftError, match="but the head is 22 in") as raised:
        APRON.draft(body, apron(strap_length=13.9 * INCH))
    assert raised.value.about == "strap_length"
    assert APRON.draft(body, apron(strap_length=14 * INCH)) and APRON.draft(body, apron(strap_length=INCH, neck="ties"))


def test_ties_reach_round() -> None:
    """28 and twice 32 in leave 28 for bows round a waist of 64: enough; a tie of 20 does not, and it is said."""
    body = Body(waist=mm(64 * INCH))
    assert not APRON.draft(body, apron()).notes
    (note,) = APRON.draft(body, apron(tie_length=20 * INCH)).notes
    assert note.startswith("waist tie: 2 in")


def test_children_are_warned() -> None:
    """A strap at a child's neck is a danger; without a bib there is none."""
    child = Body(wearer="children")
    assert any("child's neck" in note for note in APRON.draft(child, apron()).notes)
    assert not APRON.draft(child, apron(bib_height=0.0)).notes


@pytest.mark.parametrize(
    ("asked", "about"),
    [
        ({"length": 14 * INCH}, "length"),
        ({"bib_width": 29 * INCH}, "bib_width"),
        ({"strap_width": 6 * INCH}, "strap_width"),
        ({"pockets": "patch", "length": 16 * INCH}, "pockets"),
        ({"hem": 12 * INCH}, "hem"),
        ({"hem": 2 * INCH, "bib_height": 3 * INCH}, "hem"),
        ({"side_hem": 8 * INCH}, "side_hem"),
        ({"strap_width": 4 * INCH, "tie_length": 6 * INCH, "bib_height": 0.0}, "strap_width"),
        ({"pockets": "patch", "pocket_mouth": 27 * INCH}, "pocket_mouth"),
    ],
)
def test_refused(asked: dict[str, Any], about: str) -> None:
    """What does not go together is refused by its name."""
    with pytest.raises(DraftError) as raised:
        APRON.draft(Body(), apron(**asked))
    assert raised.value.about == about


def test_unused() -> None:
    """Options that change nothing are told; so is a correction of a body."""
    for unused in ("bib_width", "strap_length"):
        plain_option_notes(APRON, Body(), apron(bib_height=0.0, **{unused: INCH}), unused)
    plain_option_notes(APRON, Body(), apron(pocket_mouth=INCH), "pocket_mouth")
    tried = Body(tried_on=corrections_of({"sleeve_longer": 10.0}))
    notes = APRON.draft(tried, apron(bib_height=0.0, armhole="straight", neck="ties")).notes
    assert [note.partition(":")[0] for note in notes] == ["armhole", "neck", "try-on"]


LENGTHS = (
    *("length", "width", "bib_height", "bib_width", "strap_length", "tie_length", "strap_width", "hem", "side_hem"),
    *("seam", "pocket_mouth"),
)


@given(
    lengths=st.dictionaries(st.sampled_from(LENGTHS), st.floats(1, 900), max_size=4),
    choices=st.fixed_dictionaries({name: st.sampled_from(of) for name, of in CHOICES.items()}),
)
@settings(max_examples=40, deadline=None)
def test_random(lengths: dict[str, float], choices: dict[str, str]) -> None:
    """Any sizes are drafted soundly, or refused in a line."""
    try:
        style = apron(**lengths, **choices)
    except DraftError:
        return
    sound_or_refused(APRON, Body(), style)
