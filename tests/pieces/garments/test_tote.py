"""The tote, which needs no measurement of a body."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.errors import DraftError
from pieces.garments.tote import ToteStyle
from pieces.piece.curve import polyline_length
from tests.make.lengths import in_mm
from tests.make.sound import plain_option_notes, sound, sound_or_refused

if TYPE_CHECKING:
    from pieces import PieceSet

INCH = 25.4
TOTE = GARMENTS["tote"]
CHOICES = {name: get_args(get_type_hints(ToteStyle)[name]) for name in ("bottom", "straps", "lining", "pockets")}


def tote(**asked: Any) -> ToteStyle:
    """A style by some of its options, lengths in mm."""
    return ToteStyle(**in_mm(asked))


@pytest.mark.parametrize("asked", list(product(*CHOICES.values())))
@pytest.mark.parametrize("depth", [0.0, 4 * INCH])
def test_every_style(asked: tuple[str, ...], depth: float) -> None:
    """Sound in all choices, flat or boxed, for no body."""
    sound(TOTE, Body(), tote(depth=depth, **dict(zip(CHOICES, asked, strict=True))))


@pytest.mark.parametrize(("width", "height", "depth"), [(14, 15, 4), (10, 8, 0), (16, 12, 6)])
@pytest.mark.parametrize("bottom", CHOICES["bottom"])
def test_a_bag_holds_what_was_asked(width: float, height: float, depth: float, bottom: str) -> None:
    """Sewn up it is a box, by plain arithmetic: its cloth is that of four sides and the bottom.

    2 (width + depth) height + width depth, without allowances; the girth of its upper edge is 2 (width + depth).
    """
    pieces = TOTE.draft(Body(), tote(width=width * INCH, height=height * INCH, depth=depth * INCH, bottom=bottom))
    bag = pieces["bag"]
    times = bag.cut * (2 if bag.on_fold else 1)
    area = times * shapely.Polygon(bag.sew_line).area / INCH**2
    assert area == pytest.approx(2 * (width + depth) * height + width * depth)
    upper = sum(polyline_length(edge.points) for edge in bag.edges if edge.name.endswith("top"))
    assert times * upper == pytest.approx(2 * (width + depth) * INCH)


def test_straps_are_caught_at_both_ends() -> None:
    """22 in and two hems of 1 1/2 in; with a lining two seams of 1/2 in; folded in four."""
    hemmed, lined = (TOTE.draft(Body(), tote(lining=lining))["strap"] for lining in ("none", "full"))
    assert (hemmed.length / INCH, hemmed.width / INCH, hemmed.cut) == pytest.approx((25, 4, 2))
    assert (lined.length / INCH, lined.width / INCH) == pytest.approx((23, 4))


@pytest.mark.parametrize(
    ("asked", "about"),
    [
        ({"depth": 0.9 * INCH}, "depth"),
        ({"strap_width": 8 * INCH}, "strap_width"),
        ({"strap_length": 0.0}, "strap_length"),
        ({"pockets": "patch", "pocket_mouth": 15 * INCH}, "pocket_mouth"),
        ({"pockets": "patch", "height": 4 * INCH}, "pockets"),
        ({"width": 0.0}, "width"),
        ({"straps": "one", "strap_width": 19 * INCH}, "strap_width"),
        ({"strap_length": 6 * INCH, "strap_width": 4 * INCH}, "strap_width"),
        ({"hem": 8 * INCH}, "hem"),
        ({"height": 3 * INCH}, "height"),
    ],
)
def test_refused(asked: dict[str, Any], about: str) -> None:
    """What does not go together is refused by its name."""
    with pytest.raises(DraftError) as raised:
        TOTE.draft(Body(), tote(**asked))
    assert raised.value.about == about


def test_a_wide_strap_is_noted() -> None:
    """4 in, folded in four, take a strip 16 in wide; 3 in are not noted."""
    assert not TOTE.draft(Body(), tote(strap_width=3 * INCH)).notes
    (note,) = TOTE.draft(Body(), tote(strap_width=4 * INCH)).notes
    assert note.startswith("strap_width: 4 in") and "16 in" in note


@pytest.mark.parametrize(
    ("asked", "unused"),
    [
        ({"straps": "none", "strap_length": INCH}, "strap_length"),
        ({"straps": "none", "strap_width": INCH}, "strap_width"),
        ({"lining": "full", "hem": INCH}, "hem"),
        ({"pocket_mouth": INCH}, "pocket_mouth"),
    ],
)
def test_unused(asked: dict[str, Any], unused: str) -> None:
    """An option that changes nothing is told; so is a correction of a body."""
    plain_option_notes(TOTE, Body(), tote(**asked), unused)
    tried = Body(tried_on=corrections_of({"sleeve_longer": 10.0}))
    assert any("changes nothing in a tote" in note for note in TOTE.draft(tried, tote()).notes)


def test_thread_of_two_halves() -> None:
    """Two halves are sewn to one another once at the bottom: a lockstitch of 14 in more, without the side seams."""

    def thread(pieces: PieceSet, style: ToteStyle) -> float:
        assert TOTE.trims
        return next(trim.needed for trim in TOTE.trims(pieces, style) if trim.name == "thread")

    folded, seamed = (tote(bottom=bottom) for bottom in CHOICES["bottom"])
    more = thread(TOTE.draft(Body(), seamed), seamed) - thread(TOTE.draft(Body(), folded), folded)
    assert more == pytest.approx(14 * INCH * 2.8 * 1.15, abs=2)


LENGTHS = ("width", "height", "depth", "strap_length", "strap_width", "hem", "seam", "pocket_mouth")


@given(
    lengths=st.dictionaries(st.sampled_from(LENGTHS), st.floats(0, 600), max_size=5),
    choices=st.fixed_dictionaries({name: st.sampled_from(of) for name, of in CHOICES.items()}),
)
@settings(max_examples=40, deadline=None)
def test_random(lengths: dict[str, float], choices: dict[str, str]) -> None:
    """Any sizes are drafted soundly, or refused in a line."""
    try:
        style = tote(**lengths, **choices)
    except DraftError:
        return
    sound_or_refused(TOTE, Body(), style)
