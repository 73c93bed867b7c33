"""The shirt: its collar walks the neckline, its sleeves their armholes; for women, men and children."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import Any, get_args, get_type_hints

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.body.sizes import find_table
from pieces.errors import DraftError
from pieces.garments.shirts.style import ShirtStyle
from pieces.length import mm
from tests.make.figures import any_bodies, sized_bodies
from tests.make.lengths import in_mm
from tests.make.sound import plain_option_notes, sound, sound_or_refused

INCH = 25.4
SHIRT = GARMENTS["shirt"]
HINTS = get_type_hints(ShirtStyle)
CHOICES = {
    name: get_args(HINTS[name]) for name in ("sleeves", "fit", "ends", "facing", "yoke", "pockets", "interfacing")
}
LENGTHS_OF = {"women": (25.5, 30), "men": (27, 32), "children": (15, 23.5)}
MAN = find_table("men").body("108")


def shirt(**asked: Any) -> ShirtStyle:
    """A style by some of its options, lengths in mm."""
    return ShirtStyle(**in_mm(asked))


@pytest.mark.parametrize(
    "asked", list(product(CHOICES["sleeves"], CHOICES["ends"], CHOICES["facing"], CHOICES["yoke"]))
)
@pytest.mark.parametrize("pockets", CHOICES["pockets"])
def test_every_style(asked: tuple[str, ...], pockets: str) -> None:
    """Sound in all choices, with interfacing where there is one pocket."""
    chosen = dict(zip(("sleeves", "ends", "facing", "yoke"), asked, strict=True))
    sound(SHIRT, MAN, shirt(pockets=pockets, interfacing="cut" if pockets == "one" else "none", **chosen))


def test_every_size() -> None:
    """For each size of all tables the chest has the ease of the table of men's shirts: 4 3/4, 6 1/4 or 7 3/4 in.

    Slim, normal and loose, by turns: a sewing guide, read on the web. The neckline has 1/4 to 1 1/4 in more than the
    neck. Where no length is asked for, a man's shirt is 27 to 32 in long, a child's of 98 cm about 15: common practice,
    no source. Extremes may be refused, in a line.
    """
    drafted, ease = 0, {"close": 4.75, "regular": 6.25, "loose": 7.75}
    for i, (name, body) in enumerate(sized_bodies()):
        fit, facing = CHOICES["fit"][i % 3], CHOICES["facing"][i % 2]
        pieces = sound_or_refused(SHIRT, body, shirt(fit=fit, facing=facing))
        if pieces is None:
            continue
        drafted += 1
        sizes = {size.name: size for size in pieces.finished}
        assert sizes["chest"].ease == pytest.approx(ease[fit] * INCH), name
        assert 0.25 * INCH <= (sizes["neck opening"].ease or 0) <= 1.25 * INCH, name
        least, most = LENGTHS_OF[body.wearer]
        assert least * INCH < sizes["length from the neck point"].garment < most * INCH, name
        assert sizes["sleeve from the shoulder point"].garment == pytest.approx(body.arm_length, abs=0.2)
    assert drafted > 35


def test_the_collar_walks_the_neckline() -> None:
    """From the centre back over the shoulder seam to the centre front; the overlap lies beyond. By shapely alone."""
    for facing in CHOICES["facing"]:
        pieces = SHIRT.draft(MAN, shirt(facing=facing))
        neck = sum(shapely.LineString(pieces[name].edge("neck").points).length for name in ("back", "front"))
        assert shapely.LineString(pieces["collar"].edge("neck").points).length == pytest.approx(neck, abs=0.01)
        assert pieces["front"].edge("neck").points[-1, 1] == pytest.approx(0.0, abs=1e-6)
        (notch,) = pieces["collar"].notches
        walked = shapely.LineString(pieces["collar"].edge("neck").points).project(shapely.Point(notch.point))
        assert walked == pytest.approx(pieces["back"].edge("neck").length, abs=0.01)
        behind = np.ptp(pieces["collar"].edge("centre back").points[:, 0])
        assert behind == pytest.approx(3 * INCH)


def test_sleeves_and_cuffs() -> None:
    """A cuff is the wrist and 1 in, folded double; 2 in are gathered into it; the slit lies on the sleeve's back."""
    pieces = SHIRT.draft(MAN, shirt())
    cuff, sleeve = pieces["cuff"], pieces["sleeve"]
    assert cuff.edge("edge").length == pytest.approx(MAN.wrist + INCH)
    assert (cuff.width - INCH) / 2 == pytest.approx(2.5 * INCH)
    (gathered,) = [seam.ease for seam in pieces.seams if seam.name == "cuff"]
    assert gathered == pytest.approx(2 * INCH)
    (slit,) = sleeve.inner
    back = sleeve.edge("back underarm").points[:, 1].mean()
    assert all(np.sign(y) == np.sign(back) for _, y in slit.points)
    short = SHIRT.draft(MAN, shirt(sleeves="short"))
    ends = {size.name: size.garment for size in short.finished}
    assert ends["sleeve from the shoulder point"] == pytest.approx(0.42 * (MAN.arm_length or 0), abs=0.2)
    assert ends["upper arm"] - short["sleeve"].edge("wrist").length == pytest.approx(INCH, abs=0.1)


def test_a_pocket_lies_on_the_chest() -> None:
    """An eighth of the chest wide, 4 1/2 in for size 36 (Rosenfeld, 1911, lesson 27), within the front's sew line."""
    body = replace(MAN, bust=mm(36 * INCH))
    for pockets, cut in (("one", 1), ("two", 2)):
        pieces = SHIRT.draft(body, shirt(pockets=pockets, fit="loose"))
        pocket, front = pieces["patch pocket"], pieces["front"]
        assert (pocket.width - INCH, pocket.cut) == (pytest.approx(4.5 * INCH), cut)
        place = shapely.Polygon(front.inner[-1].points)
        assert shapely.Polygon(front.sew_line).buffer(-0.9 * INCH).contains(place)


def test_buttons() -> None:
    """Along the edge from the hem to the neckline, whichever facing; and one at each cuff."""
    assert SHIRT.trims
    for facing in CHOICES["facing"]:
        style = shirt(facing=facing)
        front, cuffs = [t for t in SHIRT.trims(SHIRT.draft(MAN, style), style) if t.name == "buttons or snaps"]
        assert 24 * INCH < front.needed < 26 * INCH and front.count >= 6
        assert (cuffs.count, cuffs.where) == (2, ("cuff",))


@pytest.mark.parametrize(
    ("asked", "about", "said"),
    [
        ({"length": 12 * INCH}, "length", "make the shirt longer or armhole_depth smaller"),
        ({"overlap": 0.4 * INCH}, "overlap", "set facing to 'separate'"),
        ({"sleeve_hem": 8 * INCH}, "sleeve_hem", "set ends to 'hem'"),
        ({"sleeve": 12 * INCH}, "sleeve", "slit"),
        ({"pockets": "two", "pocket_mouth": 9 * INCH}, "pocket_mouth", "chest pocket"),
        ({"facing_width": 9 * INCH}, "facing_width", "facing_width must be"),
    ],
)
def test_refused(asked: dict[str, Any], about: str, said: str) -> None:
    """What does not go together is refused by its name, and nothing is said of jackets or ribs."""
    with pytest.raises(DraftError) as raised:
        SHIRT.draft(MAN, shirt(**asked))
    assert raised.value.about == about and said in str(raised.value)
    assert "jacket" not in str(raised.value) and " rib" not in str(raised.value)


@pytest.mark.parametrize(
    ("asked", "unused"), [({"sleeves": "short"}, "cuff_depth"), ({"ends": "hem"}, "cuff_depth"), ({}, "pocket_mouth")]
)
def test_unused(asked: dict[str, Any], unused: str) -> None:
    """An option that changes nothing is told, and does change nothing."""
    plain_option_notes(SHIRT, MAN, shirt(**asked, **{unused: 2 * INCH}), unused)


def test_corrections_and_sides() -> None:
    """Length, sleeve and posture are drafted as of a jacket; a lower left shoulder gives left and right pieces."""
    tried = corrections_of({"longer": 20.0, "sleeve_longer": 10.0, "back_rounder": 6.0})
    plain, other = SHIRT.draft(MAN, shirt()), sound(SHIRT, replace(MAN, tried_on=tried), shirt())
    sizes = [{size.name: size.garment for size in one.finished} for one in (plain, other)]
    for name, more in (("length from the neck point", 20.0), ("sleeve from the shoulder point", 10.0)):
        assert sizes[1][name] - sizes[0][name] == pytest.approx(more, abs=0.1)
    assert [note for note in other.notes if note.startswith("try-on")] == [
        *("try-on: longer by 3/4 in (20 mm)", "try-on: sleeve longer by 3/8 in (10 mm)"),
        "try-on: back longer over the shoulder blades by 1/4 in (6 mm)",
    ]
    lower = corrections_of({"left_shoulder_lower": 10.0})
    for asked in ({"pockets": "one"}, {"facing": "separate"}):
        pieces = sound(SHIRT, replace(MAN, tried_on=lower), shirt(**asked))
        assert {"left front", "right front", "left sleeve", "right sleeve"} <= {piece.name for piece in pieces}


LENGTHS = tuple(option.name for option in SHIRT.options() if option.name not in CHOICES)


@given(
    body=any_bodies("bust", "hip", "across_shoulder", "neck", "upper_arm", "wrist", "arm_length"),
    lengths=st.dictionaries(st.sampled_from(LENGTHS), st.floats(0, 400), max_size=3),
    choices=st.fixed_dictionaries({name: st.sampled_from(of) for name, of in CHOICES.items()}),
)
@settings(max_examples=20, deadline=None)
def test_random(body: Body, lengths: dict[str, float], choices: dict[str, str]) -> None:
    """Any body in any style is drafted soundly, or refused in a line."""
    try:
        style = shirt(**lengths, **choices)
    except DraftError:
        return
    sound_or_refused(SHIRT, body, style)
