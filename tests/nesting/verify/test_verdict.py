"""The independent check accepts what is sound on every spread, and its sums are right by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.errors import CheckError, WrongMarkerError
from nesting.folds.fold_then_open import fold_then_open
from nesting.problem.lay import lay_mix
from nesting.verify import Asked, Laid, LaidMarker, verify, verify_asked
from nesting.verify.cloth import cloth_of
from nesting.verify.hands import is_short
from nesting.verify.shape import PieceShape, motions
from pieces import Piece
from pieces.length import mm
from tests.make import forging
from tests.make.forging import (
    TWILL,
    back,
    held,
    laid,
    patch,
    sleeve,
    solved,
    tab,
)
from tests.make.outlines import sides

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread

WIDE = replace(TWILL, width=mm(2000.0))
PIECES = [back(), sleeve(), tab()]

SOUND: dict[str, tuple[Fabric, Spread, int, dict[str, Any]]] = {
    "open": (TWILL, "open", 2, {}),
    "open, nap": (replace(TWILL, nap=True), "open", 2, {}),
    "open, nap by garment": (replace(TWILL, nap="by garment"), "open", 3, {}),
    "folded": (TWILL, "folded", 2, {}),
    "folded, nap": (replace(TWILL, nap=True), "folded", 2, {}),
    "folded, nap by garment": (replace(TWILL, nap="by garment"), "folded", 4, {}),
    "double-folded": (WIDE, "double-folded", 2, {}),
    "part-folded": (TWILL, "part-folded", 2, {"depth": mm(200.0)}),
    "crosswise": (TWILL, "crosswise", 2, {}),
    "face-up": (TWILL, "face-up", 4, {"plies": 4}),
    "face-to-face": (replace(TWILL, nap=True), "face-to-face", 4, {"plies": 4}),
    "tube": (replace(TWILL, selvedge=mm(0.0)), "tube", 2, {}),
}


def all_of(fabric: Fabric) -> list[str]:
    """What must hold of a marker on cloth without a pattern or faults."""
    return [
        "cloth",
        "places",
        "outlines",
        "grain",
        "counts",
        *(["nap"] if fabric.nap else []),
        "fold",
        "apart",
        "figures",
    ]


@pytest.mark.parametrize("name", SOUND)
def test_sound_on_every_spread(name: str) -> None:
    """What is laid on each spread gives what was asked for."""
    fabric, spread, garments, options = SOUND[name]
    marker = laid(PIECES, fabric, spread, garments=garments, **options)
    asked = Asked.of(PIECES, fabric, spread, garments=garments, **options)
    assert held(LaidMarker.of(marker), asked) == all_of(fabric)
    verify(marker, PIECES, fabric, spread, garments=garments, **options)


def test_hands_of_a_pair_are_named_as_they_are_cut() -> None:
    """Of a pair whose hands are alike none need be named; the one that is cut may be, the other one not.

    A pair of sleeves that are not alike is a left and a right, and both say so.
    """
    pair = tab(mirrored_pair=True)
    layout = LaidMarker.of(laid([pair], TWILL, "open"))
    assert layout.claims is not None and [one.item for one in layout.claims.told] == ["tab", "tab"]
    asked = Asked.of([pair], TWILL, "open")
    assert held(layout, asked)[-1] == "figures"
    assert held(called(layout, 0, "tab (left)"), asked)[-1] == "figures"
    with pytest.raises(CheckError, match=r"the marker says an outline is 'tab \(right\)', but it is 'tab \(left\)'"):
        held(called(layout, 0, "tab (right)"), asked)
    sleeves = LaidMarker.of(laid([sleeve()], TWILL, "open"))
    with pytest.raises(
        CheckError, match=r"the marker says an outline is 'sleeve', but it is 'sleeve \((left|right)\)'"
    ):
        held(called(sleeves, 0, "sleeve"), Asked.of([sleeve()], TWILL, "open"))


def called(layout: LaidMarker, number: int, item: str) -> LaidMarker:
    """A layout of which one outline is said to be a placement of another item."""
    assert layout.claims is not None
    told = list(layout.claims.told)
    told[number] = told[number]._replace(item=item)
    return replace(layout, claims=replace(layout.claims, told=tuple(told)))


def test_sound_in_two_stretches() -> None:
    """Folded and then opened out, each piece lies by the cloth as it lies there."""
    wide = sleeve(name="wide", edges=sides([(0, 0), (300, 0), (300, 700), (0, 760)], [0.0] * 4), notches=(), inner=())
    pieces = [back(), sleeve(), replace(wide, drill_points=())]
    marker = solved(fold_then_open(pieces, TWILL, most=0))
    assert held(LaidMarker.of(marker), Asked.of(pieces, TWILL, "fold-then-open")) == all_of(TWILL)


def test_sound_in_several_sizes() -> None:
    """Garments of two sizes on one marker, nap by garment: of each size the tops of a garment's pieces agree."""
    sizes = [[replace(piece, name=f"{piece.name} {size}") for piece in PIECES] for size in ("S", "L")]
    sets = [(tuple(sizes[0]), 3), (tuple(sizes[1]), 2)]
    fabric = replace(TWILL, nap="by garment")
    marker = solved(lay_mix(sets, fabric, "open"))
    verify_asked(marker, Asked(tuple(sets), fabric, "open"))
    with pytest.raises(WrongMarkerError, match=r"fault in ellwand.*please report"):
        verify_asked(marker, Asked(((sets[0][0], 2), sets[1]), fabric, "open"))


def test_sound_with_tilt_cross_and_free() -> None:
    """Pieces that tolerate a tilt, lie across the grain, or at any eighth of a turn."""
    pieces = [back(), sleeve(tilt=3.0), tab(lies="free", cut=6), patch(lies="cross", cut=3)]
    marker = laid(pieces, TWILL, "open", garments=2)
    assert held(LaidMarker.of(marker), Asked.of(pieces, TWILL, "open", garments=2)) == all_of(TWILL)


@pytest.mark.parametrize("spread", ["open", "folded"])
def test_sound_on_checks(spread: Spread) -> None:
    """On checks the match points lie on the lines in both layers."""
    fabric = replace(TWILL, repeat_along=mm(90.0), repeat_across=mm(60.0))
    pieces = [back(match=(50.0, 0.0)), sleeve(match=(0.0, 60.0)), tab(match=(0.0, 25.0))]
    marker = laid(pieces, fabric, spread)
    assert "pattern" in held(LaidMarker.of(marker), Asked.of(pieces, fabric, spread))


@pytest.mark.parametrize("spread", ["open", "folded", "double-folded", "face-to-face", "tube"])
@pytest.mark.parametrize("nap", [False, True])
def test_sound_on_any_grain(spread: Spread, nap: bool) -> None:
    """Grain at any angle, arrows either way, on cloth that shrinks after cutting: all layers are right."""
    fabric = replace(TWILL, width=mm(2400.0), selvedge=mm(0.0), nap=nap, shrinkage=(8.0, 3.0))
    angles = {"bias": (1.0, 1.0), "steep": (1.0, -3.0), "across": (0.0, 1.0), "reverse": (-1.0, 0.0)}
    pieces = [sleeve(name=name, grain=((0.0, 0.0), end)) for name, end in angles.items()]
    pieces += [back(grain=((100.0, 0.0), (0.0, 0.0))), tab(lies="cross")]
    pieces.append(sleeve(name="loose", lies="free", tilt=3.0))
    marker = laid(pieces, fabric, spread, garments=2)
    assert held(LaidMarker.of(marker), Asked.of(pieces, fabric, spread, garments=2)) == all_of(fabric)


def test_shrunk_along_the_wrong_axis() -> None:
    """A belt of 1,000 x 50 mm laid across cloth that loses 10 % along is cut 1,000 x 55.6, not 1,111 x 50.

    By hand: 50 / (1 - 0.1) = 55.6. The factors exchanged, left out, or those of seam allowances alone are seen.
    """
    belt = Piece("belt", sides([(0, 0), (1000, 0), (1000, 50), (0, 50)], [0.0] * 4), lies="cross")
    asked = Asked.of([belt], Fabric("twill", mm(1400.0), shrinkage=(10.0, 0.0)), "open")

    def lying(along: float, across: float, turn: float) -> LaidMarker:
        outline = np.array([(0, 0), (along, 0), (along, across), (0, across)], dtype=float)
        return LaidMarker(1200.0, 0.0, (Laid("belt", outline, turn, False, False),), ())

    held(lying(50 / 0.9, 1000, 90), asked)
    held(lying(1000 / 0.9, 50, 0), asked)
    for along, across, turn in ((50, 1000 / 0.9, 90), (50, 1000, 90), (1000, 50 / 0.9, 0), (1000, 50, 0)):
        with pytest.raises(CheckError, match=r"'belt' is not drawn with its own outline as it is enlarged"):
            held(lying(along, across, turn), asked)


def test_is_short_by_hand() -> None:
    """Hall's condition, by hand: two that serve as either and one left do for two lefts and a right, not for three."""
    either, left = frozenset(("left", "right")), frozenset(("left",))
    there = {either: 2, left: 1}
    assert not is_short(there, {"left": 2, "right": 1})  # type: ignore[type-var]
    assert not is_short(there, {"left": 1, "right": 2})  # type: ignore[type-var]
    assert is_short(there, {"right": 3})  # type: ignore[type-var]


def test_own_images_by_hand() -> None:
    """A rectangle has four own images, a square eight, a slanted piece one; an isosceles triangle two."""
    number: dict[int, list[tuple[float, float]]] = {
        4: [(0, 0), (80, 0), (80, 50), (0, 50)],
        8: [(0, 0), (50, 0), (50, 50), (0, 50)],
        1: forging.LIMB,
        2: [(0, 0), (80, 0), (40, 70)],
    }
    for images, outline in number.items():
        shape = PieceShape.as_drawn(Piece("it", sides(outline, [0.0] * len(outline))))
        assert len(shape.own_images) == images
    assert len(motions(np.array(number[1]), np.array(number[2]))) == 0


def test_layers_by_hand() -> None:
    """Where a point of the table lies on the flat cloth: cloth of 1,200 mm, 100 mm along and 50 across the table."""
    point = np.array([[100.0, 50.0]])
    by_hand = {
        "open": [(100, 50)],
        "folded": [(100, 650), (100, 550)],
        "tube": [(100, 50), (100, -50)],
        "double-folded": [(100, 350), (100, 250)],
        "part-folded": [(100, 250), (100, 150)],
        "crosswise": [(100, 50), (900, 50)],
        "face-up": [(100, 50), (100, 50)],
        "face-to-face": [(100, 50), (100, 1150)],
    }
    for spread, places in by_hand.items():
        region = cloth_of(Asked.of([], TWILL, spread, depth=200.0), 500.0, None).regions[0]
        assert [tuple(layer.to_cloth(point)[0]) for layer in region.layers] == places, spread
