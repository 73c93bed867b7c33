"""The robe: rectangles for every body, and a neck that the head passes."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any, get_args, get_type_hints

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.body.sizes import find_table
from pieces.errors import DraftError
from pieces.garments.straight.style import RobeStyle
from pieces.length import mm
from tests.make.figures import any_bodies, sized_bodies
from tests.make.lengths import in_mm
from tests.make.sound import plain_option_notes, sound, sound_or_refused

INCH = 25.4
ROBE = GARMENTS["robe"]
HINTS = get_type_hints(RobeStyle)
CHOICES = {name: get_args(HINTS[name]) for name in ("shoulder", "front", "neckline", "belt", "pockets")}
MIDDLE = find_table("women").body("96")


def robe(**asked: Any) -> RobeStyle:
    """A style by some of its options, lengths in mm."""
    return RobeStyle(**in_mm(asked))


@pytest.mark.parametrize("asked", list(product(*CHOICES.values())))
@pytest.mark.parametrize("gusset", [0.0, 4 * INCH])
def test_every_style(asked: tuple[str, ...], gusset: float) -> None:
    """Sound in all choices, with gussets and side slits and without."""
    sound(ROBE, MIDDLE, robe(gusset=gusset, side_slit=gusset, **dict(zip(CHOICES, asked, strict=True))))


def test_every_size() -> None:
    """For each size of all tables; 8 in more than the larger of bust and hip; no note, since there is room."""
    styles = list(product(CHOICES["shoulder"], CHOICES["front"]))
    for i, (name, body) in enumerate(sized_bodies()):
        shoulder, front = styles[i % 4]
        style = robe(shoulder=shoulder, front=front, gusset=3 * INCH, sleeve=body.arm_length)
        pieces = sound(ROBE, body, style)
        sizes = {size.name: size for size in pieces.finished}
        assert sizes["chest"].garment == pytest.approx(max(body.bust, body.hip) + 8 * INCH), name
        assert all(
            (sizes[of].ease or 0.0) >= least * INCH for of, least in (("chest", 8), ("hip", 8), ("upper arm", 2))
        )
        assert not pieces.notes, name


def test_cloth_is_that_of_its_rectangles() -> None:
    """Sewn area by plain arithmetic: body and sleeves, less the neck, which is measured by shapely alone."""
    for shoulder, gusset in product(CHOICES["shoulder"], (0.0, 4 * INCH)):
        pieces = ROBE.draft(MIDDLE, robe(shoulder=shoulder, gusset=gusset))
        told = pieces.measures
        cut = [piece for piece in pieces if piece.name in ("back", "front", "body", "sleeve", "gusset")]
        area = sum(shapely.Polygon(p.sew_line).area * p.cut * (2 if p.on_fold else 1) for p in cut)
        sleeve = pieces["sleeve"]
        arms = 2 * 2 * told["armhole_depth"] * (sleeve.length - 0.5 * INCH - 1.375 * INCH)
        whole = 2 * told["body_finished_length"] * told["half_width"] + arms + 2 * gusset**2
        hole = whole - area
        box = 2 * told["half_neck_width"] * (told["front_neck_depth"] + 0.05 * MIDDLE.neck)
        assert 0.6 * box < hole < 0.95 * box  # a quarter of an ellipse fills 0.785 of its box


def test_the_head_passes() -> None:
    """Neckline and twice the slit are the head and 1 in at the least; a slit that is a little shorter is refused."""
    body = replace(MIDDLE, head=mm(24 * INCH))
    pieces = ROBE.draft(body, robe())
    round_it = sum(2 * pieces[name].edge("neck").length for name in ("front", "back"))
    assert round_it + 2 * pieces.measures["slit"] >= 25 * INCH
    needed = (25 * INCH - round_it) / 2
    assert ROBE.draft(body, robe(slit=needed + 0.1)).measures["slit"] == pytest.approx(needed + 0.1)
    with pytest.raises(DraftError, match=r"does not pass a head of 24 in.*make the slit") as raised:
        ROBE.draft(body, robe(slit=needed - 0.1))
    assert raised.value.about == "slit"
    assert ROBE.draft(MIDDLE, robe(slit=0.0, neck_depth=9 * INCH)).measures["slit"] == 0.0


def test_an_open_facing_is_as_wide_all_along() -> None:
    """2 1/2 in from the edge to the inner edge, at the front and along the slant, by shapely."""
    facing = ROBE.draft(MIDDLE, robe(front="open"))["front facing"]
    for outer, inner in (("front edge", "inner edge"), ("neck", "inner slant")):
        line = shapely.LineString(facing.edge(outer).points)
        along = shapely.LineString(facing.edge(inner).points)
        apart = [line.distance(along.interpolate(share, normalized=True)) for share in (0.3, 0.5, 0.7)]
        assert apart == pytest.approx([2.5 * INCH] * 3, abs=0.5)


def test_sleeve_and_loops() -> None:
    """The sleeve ends where the arm does; a loop lies at the waist, on both sides of the side seam."""
    style = robe(belt="belt")
    for shoulder in CHOICES["shoulder"]:
        pieces = ROBE.draft(MIDDLE, replace(style, shoulder=shoulder))
        sleeve = pieces["sleeve"].edge("back underarm").length
        assert sleeve + pieces.measures["half_width"] / 2 - MIDDLE.across_shoulder / 2 == pytest.approx(
            MIDDLE.arm_length
        )
        loops = [notch.point[0] for piece in pieces for notch in piece.notches if notch.name == "belt loop"]
        assert len(loops) == 2 and abs(loops[0]) == pytest.approx(abs(loops[1]))


@pytest.mark.parametrize(
    ("asked", "about"),
    [
        ({"ease": -18 * INCH}, "ease"),
        ({"length": 12 * INCH}, "length"),
        ({"neck_depth": 46 * INCH}, "length"),
        ({"sleeve": 4 * INCH}, "sleeve"),
        ({"facing_width": 10 * INCH}, "facing_width"),
        ({"pockets": "patch", "length": 24 * INCH}, "pockets"),
        ({"pockets": "patch", "pocket_mouth": 13 * INCH}, "pocket_mouth"),
    ],
)
def test_refused(asked: dict[str, Any], about: str) -> None:
    """What does not go together is refused by its name."""
    with pytest.raises(DraftError) as raised:
        ROBE.draft(MIDDLE, robe(**asked))
    assert raised.value.about == about


def test_little_room_is_told() -> None:
    """Less than 4 in of ease, and less than 2 in round the arm."""
    notes = ROBE.draft(MIDDLE, robe(ease=2 * INCH, sleeve_width=MIDDLE.upper_arm + INCH)).notes
    assert [note.partition(":")[0] for note in notes] == ["hip", "upper arm"]


@pytest.mark.parametrize(
    ("asked", "unused"),
    [
        ({"front": "open", "neckline": "band"}, "facing_width"),
        ({}, "band_width"),
        ({"front": "open"}, "slit"),
        ({}, "belt_length"),
        ({}, "belt_width"),
        ({}, "pocket_mouth"),
    ],
)
def test_unused(asked: dict[str, Any], unused: str) -> None:
    """An option that changes nothing is told, and does change nothing."""
    plain_option_notes(ROBE, MIDDLE, robe(**asked, **{unused: INCH}), unused)


def test_corrections() -> None:
    """Longer, wider and a longer sleeve are drafted; what a robe has no place for is told."""
    tried = corrections_of({"longer": 20.0, "wider": 16.0, "sleeve_longer": 10.0, "back_rounder": 5.0})
    plain, other = ROBE.draft(MIDDLE, robe()), ROBE.draft(replace(MIDDLE, tried_on=tried), robe())
    assert other["back"].length - plain["back"].length == pytest.approx(20.0)
    assert other["back"].width - plain["back"].width == pytest.approx(8.0)
    assert other["sleeve"].length - plain["sleeve"].length == pytest.approx(10.0 - 4.0)
    assert [note.endswith("changes nothing in a robe") for note in other.notes] == [False, False, False, True]


LENGTHS = tuple(option.name for option in ROBE.options() if option.name not in CHOICES)


@given(
    body=any_bodies("bust", "hip", "across_shoulder", "neck", "upper_arm", "arm_length"),
    lengths=st.dictionaries(st.sampled_from(LENGTHS), st.floats(0, 500), max_size=4),
    choices=st.fixed_dictionaries({name: st.sampled_from(of) for name, of in CHOICES.items()}),
)
@settings(max_examples=25, deadline=None)
def test_random(body: Body, lengths: dict[str, float], choices: dict[str, str]) -> None:
    """Any body in any style is drafted soundly, or refused in a line."""
    try:
        style = robe(**lengths, **choices)
    except DraftError:
        return
    sound_or_refused(ROBE, body, style)
