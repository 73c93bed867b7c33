"""The straight skirt: darts that close, a waist that runs on over them, the hip of School Sewing."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body, inches
from pieces.errors import DraftError
from pieces.garments.straight_skirt import StraightSkirtStyle
from tests.make.lengths import in_mm
from tests.make.skirts import every_body, is_sound, notches_along, some_body

if TYPE_CHECKING:
    from pieces.piece.piece import InnerLine, Piece

INCH = 25.4
STRAIGHT = GARMENTS["straight-skirt"]
BODY = Body(waist=inches(28), hip=inches(40))
STYLES: tuple[dict[str, Any], ...] = (
    {},
    {"opening": "vent", "lining": "full", "interfacing": "cut"},
    {"opening": "slit", "waistband": "facing", "pockets": "side-seam"},
    {"shape": "a-line", "zip": "side", "back": "fold", "waistband": "two-layer"},
    {"shape": "a-line", "waistband": "facing", "lining": "full"},
)


def style(**asked: Any) -> StraightSkirtStyle:
    """A style; numbers in mm."""
    return StraightSkirtStyle(**in_mm(asked))


def darts(piece: Piece) -> list[InnerLine]:
    """The darts of a panel."""
    return [line for line in piece.inner if line.kind == "sew"]


def test_hip_of_a_foundation_skirt() -> None:
    """School Sewing: the hip measure and 2 in; it is met 7 in down the side, as in 1914 at a hip of 40 in."""
    drafted = STRAIGHT.draft(BODY, style())
    widths = [float(drafted[name].edge("hem").points[-1, 1]) for name in ("front", "back")]
    assert 2 * sum(widths) / INCH == pytest.approx(42, abs=0.001)
    assert drafted.measures["hip_depth"] / INCH == pytest.approx(7)
    for name in ("front", "back"):
        side = drafted[name].edge("side")
        assert side.length == pytest.approx((24 + 1.5) * INCH, abs=0.01)  # with its hem
        straight = 1.5 * INCH
        assert float(np.ptp(side.points[:2, 0])) == pytest.approx(straight, abs=0.5)


@pytest.mark.parametrize("asked", STYLES, ids=str)
def test_every_size(asked: dict[str, Any]) -> None:
    """Sound in every size of every table."""
    for body in [*every_body()][::4]:
        long = 15 if body.hip < 700 else 22
        worn = style(length=long * INCH, **asked)
        is_sound(STRAIGHT, STRAIGHT.draft(body, worn), worn)


@pytest.mark.parametrize("waist", [24, 28, 34])
def test_darts_close_and_the_waist_runs_on(waist: float) -> None:
    """Both legs are equal; the waist stands at one angle to both, so that sewn it has no corner; it is square at ends.

    The roof of a dart, folded on to the waist, lies on it: its two halves are mirror images in the middle of the dart.
    """
    drafted = STRAIGHT.draft(Body(waist=inches(waist), hip=inches(40)), style())
    for name in ("front", "back"):
        piece, waists = drafted[name], 0
        for number, dart in enumerate(darts(piece), 1):
            leg, tip, other = (np.array(point) for point in dart.points)
            assert math.dist(leg, tip) == pytest.approx(math.dist(other, tip), abs=1e-6)
            inner, outer = piece.edge(f"waist {number}").points, piece.edge(f"waist {number + 1}").points
            before, after = leg - inner[1], other - outer[-2]  # into the dart's mouth, from both sides
            at = [_angle(way, tip - end) for way, end in ((before, leg), (after, other))]
            assert sum(at) == pytest.approx(math.pi, abs=0.02)
            roof = piece.edge(f"dart {number}").points[1]
            assert math.dist(roof, leg) == pytest.approx(math.dist(roof, other), abs=1e-6)
            waists += 1
        first = piece.edge("waist 1").points
        assert abs(first[-1, 0] - first[-2, 0]) < 0.03 * abs(first[-1, 1] - first[-2, 1])
        side, last = piece.edge("side").points, piece.edge(f"waist {waists + 1}").points
        assert _angle(side[-1] - side[-2], last[1] - last[0]) == pytest.approx(math.pi / 2, abs=0.06)


def _angle(first: Any, second: Any) -> float:
    cosine = float(first @ second) / np.hypot(*first) / np.hypot(*second)
    return math.acos(min(1.0, max(-1.0, cosine)))


def test_more_to_take_up_takes_more_darts() -> None:
    """A quarter of hip less waist is what side and darts take; where it is little, there is no dart in front."""
    counts = {}
    for waist in (24, 28, 34, 40):
        drafted = STRAIGHT.draft(Body(waist=inches(waist), hip=inches(40)), style())
        counts[waist] = [len(darts(drafted[name])) for name in ("front", "back")]
        mouths = sum(math.dist(dart.points[0], dart.points[2]) for n in ("front", "back") for dart in darts(drafted[n]))
        assert mouths <= (42 - waist - 1) / 2 * INCH
    assert counts == {24: [2, 2], 28: [2, 2], 34: [1, 1], 40: [0, 0]}


def test_waistband_meets_what_it_says() -> None:
    """From a zip behind: half the back, half the front; from one at the side: half the front first."""
    for zip_at, names in (
        ("back", ["side", "centre front", "side"]),
        ("side", ["centre front", "side", "centre back"]),
    ):
        drafted = STRAIGHT.draft(BODY, style(zip=zip_at))
        half = {n: sum(e.length for e in drafted[n].edges if e.name[:5] == "waist") for n in ("front", "back")}
        turns = ("back", "front", "front", "back") if zip_at == "back" else ("front", "front", "back", "back")
        at = np.cumsum([half[turn] for turn in turns])
        found = sorted(notches_along(drafted, "waistband", "waist"), key=lambda one: one[1])
        assert [name for name, _ in found] == names
        assert np.allclose([place for _, place in found], at[:-1], atol=0.1)
        assert half["front"] - half["back"] == pytest.approx(INCH / 2, abs=0.01)


def test_a_vent_overlaps_and_is_taken_into_the_hem() -> None:
    """Both backs have it, 1 3/4 in wide, as deep as the hem; the seam above it is shorter by its height."""
    plain, vented = (STRAIGHT.draft(BODY, style(opening=asked)) for asked in ("none", "vent"))
    back = vented["back"]
    assert back.width - plain["back"].width == pytest.approx(1.75 * INCH, abs=0.01)
    assert back.cut == 2 and back.edge("vent edge").allowance == 0.5 * INCH
    high = plain["back"].edge("centre back").length - back.edge("centre back").length
    assert high == pytest.approx((7 + 1.5) * INCH)  # and by the hem, which the plain seam has


def test_a_lining_is_shorter() -> None:
    """The lining ends 1 in above the skirt, has its darts, and is left open as high as the vent."""
    drafted = STRAIGHT.draft(BODY, style(opening="vent", lining="full"))
    for name in ("front", "back"):
        shell, lining = drafted[name], drafted[f"{name} lining"]
        less = shell.edge("side").length - lining.edge("side").length
        assert less == pytest.approx((1 + 1.5 - 1) * INCH, abs=0.01)  # hems of 1 1/2 and 1 in
        assert len(darts(shell)) == len(darts(lining)) and lining.material == "lining"
    assert "slit top" in {notch.name for notch in drafted["back lining"].notches}


@pytest.mark.parametrize(
    ("asked", "about"),
    [
        ({"back": "fold"}, "zip"),
        ({"back": "fold", "zip": "side", "opening": "slit"}, "opening"),
        ({"zip": "side", "pockets": "side-seam"}, "zip"),
        ({"shape": "a-line", "opening": "vent"}, "opening"),
        ({"opening": "vent", "length": 12 * INCH}, "opening"),
        ({"pockets": "side-seam", "pocket_mouth": 25 * INCH}, "pocket_mouth"),
        ({"length": 7 * INCH}, "length"),
        ({"hem": 13 * INCH}, "hem"),
        ({"opening": "vent", "hem": 6.5 * INCH}, "hem"),
    ],
    ids=str,
)
def test_what_does_not_go_together(asked: dict[str, Any], about: str) -> None:
    """One line that names the option."""
    with pytest.raises(DraftError) as raised:
        STRAIGHT.draft(BODY, style(**asked))
    assert raised.value.about == about and "\n" not in str(raised.value)


def test_options_that_change_nothing_are_noted() -> None:
    """A flare of a straight skirt, the depth of a waistband that is none, a mouth without pockets."""
    asked = style(flare=3 * INCH, waistband="facing", waistband_depth=INCH, pocket_mouth=6 * INCH)
    notes = STRAIGHT.draft(BODY, asked).notes
    for name in ("flare", "waistband_depth", "pocket_mouth"):
        assert any(note.startswith(f"{name}:") and "changes nothing" in note for note in notes), name
    assert any(note.startswith("opening:") for note in notes)


@settings(max_examples=15)
@given(
    body=some_body(),
    asked=st.fixed_dictionaries(
        {
            "length": st.floats(8 * INCH, 45 * INCH),
            "ease": st.floats(0, 4 * INCH),
            "hip_ease": st.floats(0, 6 * INCH),
            "seam": st.floats(3, 20),
            "flare": st.floats(0, 6 * INCH),
            "hem": st.floats(0, 60),
        }
    ),
    choices=st.sampled_from(STYLES),
)
def test_sound_or_one_line(body: Body, asked: dict[str, Any], choices: dict[str, Any]) -> None:
    """Any body in any style: sound pieces, or one clear line."""
    worn = style(**asked, **choices)
    try:
        drafted = STRAIGHT.draft(body, worn)
    except DraftError as error:
        assert "\n" not in str(error)
        return
    is_sound(STRAIGHT, drafted, worn)
