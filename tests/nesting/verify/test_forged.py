"""Of a layout that is sound, one thing is forged: the independent check sees it, and says what it is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting.errors import CheckError
from nesting.problem.lay import lay_mix
from nesting.verify import TOLERANCE, Asked, Laid, LaidMarker
from nesting.verify.shape import PieceShape
from pieces.length import mm
from tests.make import forging
from tests.make.forging import (
    TWILL,
    added,
    back,
    behind,
    changed,
    first,
    held,
    laid,
    moved,
    over,
    patch,
    scaled,
    sleeve,
    solved,
    tab,
    turned,
    without,
)
from tests.make.outlines import sides

if TYPE_CHECKING:
    from collections.abc import Callable


WIDE = replace(TWILL, width=mm(2000.0))
PIECES = [back(), sleeve(), tab()]


def slanted_back() -> tuple[LaidMarker, Asked]:
    """Half a back on the fold, sleeves and tabs on folded cloth with a nap and a gap."""
    fabric = replace(TWILL, nap=True)
    return LaidMarker.of(laid(PIECES, fabric, "folded")), Asked.of(PIECES, fabric, "folded")


def flat(**changes: Any) -> tuple[LaidMarker, Asked]:
    """The same in a single layer, and a patch that is no pair."""
    pieces, fabric = [*PIECES, patch()], replace(TWILL, **({"nap": True} | changes))
    return LaidMarker.of(laid(pieces, fabric, "open")), Asked.of(pieces, fabric, "open")


def test_what_is_forged_is_sound_before() -> None:
    """The layouts that are spoiled below pass as they are, and so does one whose piece lies behind the others."""
    for layout, asked in (slanted_back(), flat()):
        held(layout, asked)
    held(behind(layout, "sleeve"), asked)


def _two_lefts(layout: LaidMarker) -> LaidMarker:
    mirrored = [i for i, one in enumerate(layout.laid) if one.piece == "sleeve" and one.mirrored]
    layout = replace(layout, laid=tuple(one for i, one in enumerate(layout.laid) if i not in mirrored))
    return added(layout, first(layout, "sleeve"))


def _wrong_edge_on_fold(layout: LaidMarker) -> LaidMarker:
    """The half turned over in its place: the side away from the fold lies there now."""
    return changed(behind(layout, "back"), "back", over())


def _with_marks(layout: LaidMarker, spoil: Callable[[dict[str, Any]], Any]) -> LaidMarker:
    """Marks of a tab in place, as its file has them, spoiled."""
    one = first(layout, "sleeve")
    marks = {"notch": ((0.0, 60.0),), "drill point": ((150.0, 80.0),), "line": ((40.0, 40.0), (90.0, 60.0))}
    shape = PieceShape.as_drawn(sleeve())
    turn = np.diag([1.0, -1.0 if one.mirrored else 1.0])
    corner = (shape.outline @ turn).min(axis=0)
    assert one.turn == 0
    placed: dict[str, Any] = {
        kind: (np.array(points) @ turn + one.outline.min(axis=0) - corner,) for kind, points in marks.items()
    }
    spoil(placed)
    return changed(layout, "sleeve", lambda one: replace(one, marks=placed))


def _moved_mark(kind: str) -> Callable[[LaidMarker], LaidMarker]:
    return lambda layout: _with_marks(layout, lambda marks: marks.update({kind: (marks[kind][0] + (0.0, 0.5),)}))


def _mirrored_mark(layout: LaidMarker) -> LaidMarker:
    """The notch where the other hand has it."""
    outline = first(layout, "sleeve").outline
    middle = float(outline[:, 1].min() + outline[:, 1].max())
    return _with_marks(layout, lambda marks: marks.update({"notch": (marks["notch"][0] * (1, -1) + (0.0, middle),)}))


Forgery = tuple[str, "Callable[[LaidMarker], LaidMarker]", str]

ON_FOLD: list[Forgery] = [
    ("back dropped", lambda one: without(one, "back"), "'back' is cut 0 as drafted"),
    ("sleeve dropped", lambda one: without(one, "sleeve"), "'sleeve' is cut 0 left and 0 right, needed 1 left"),
    ("tab doubled", lambda one: added(one, first(one, "tab")), "'tab' is cut 4 times, needed 2.*wasted"),
    ("back doubled", lambda one: added(one, first(one, "back")), "'back' is cut 2 times, needed 1"),
    ("half off its fold", lambda one: changed(one, "back", moved(0.0, 0.1)), "fold edge lies 0.10 mm from the fold"),
    ("half over the fold", lambda one: changed(one, "back", moved(0.0, -0.1)), "'back' reaches 0.10 mm beyond the low"),
    ("wrong edge on the fold", _wrong_edge_on_fold, "'back' is half a piece, and its fold edge lies 150.00 mm from the "
        "fold"),
    ("against the nap", lambda one: changed(behind(one, "sleeve"), "sleeve", turned(180)), "against the nap"),
    ("turned unsaid", lambda one: changed(behind(one, "sleeve"), "sleeve", turned(180, said=False)), "turned by 180"),
    ("over unsaid", lambda one: changed(behind(one, "sleeve"), "sleeve", over(said=False)), "drawn turned over"),
    ("half said whole", lambda one: changed(one, "back", lambda it: replace(it, on_fold=False)), "not drawn with its"),
    ("whole said half", lambda one: changed(one, "tab", lambda it: replace(it, on_fold=True)), "is not cut on a fold"),
    ("1 % larger", lambda one: changed(behind(one, "sleeve"), "sleeve", scaled(1.01, 1.01)), "not drawn with its own"),
    ("0.1 % longer", lambda one: changed(behind(one, "sleeve"), "sleeve", scaled(1.001, 1.0)), "not drawn with its ow"),
    ("over the end", lambda one: replace(one, length=one.length - 0.1), "reaches 0.10 mm beyond the end of"),
    ("over the start", lambda one: changed(one, "back", moved(-2000, 0)), "beyond the start of"),
    ("cloth said wider", lambda one: replace(one, strips=(one.strips[0]._replace(high=700.0),)), "lists cloth"),
    ("cloth said single", lambda one: replace(one, strips=(one.strips[0]._replace(layers=1),)), "lists cloth from"),
    ("a stranger", lambda one: changed(one, "tab", lambda it: replace(it, piece="flap")), "but was not asked for"),
    ("named another", lambda one: changed(one, "tab", lambda it: replace(it, piece="sleeve")), "outline of 'tab'"),
    ("buffer said less", lambda one: replace(one, gap=2.5), "keeps 2.50 mm between outlines instead of 5.00"),
    ("no length", lambda one: replace(one, length=float("nan")), "cannot be nan mm long"),
    ("no place", lambda one: changed(one, "tab", moved(float("nan"), 0)), "'tab' has no finite place"),
    ("notch moved", _moved_mark("notch"), "not drawn where the piece has it: notch"),
    ("notch mirrored", _mirrored_mark, "not drawn where the piece has it: notch"),
    ("drill point moved", _moved_mark("drill point"), "not drawn where the piece has it: drill point"),
    ("inner line moved", _moved_mark("line"), "not drawn where the piece has it: inner line"),
    ("notch lost", lambda one: _with_marks(one, lambda marks: marks.update(notch=())), "not drawn where the piece has "
        "it: notch"),
]  # fmt: skip


@pytest.mark.parametrize(("forge", "reason"), [f[1:] for f in ON_FOLD], ids=[f[0] for f in ON_FOLD])
def test_forged_on_folded_cloth(forge: Callable[[LaidMarker], LaidMarker], reason: str) -> None:
    """One thing wrong on folded cloth is seen, for the right reason."""
    layout, asked = slanted_back()
    with pytest.raises(CheckError, match=reason):
        held(forge(layout), asked)


IN_ONE_LAYER: list[Forgery] = [
    ("two lefts", _two_lefts, "'sleeve' is cut 2 left and 0 right, needed 1 left and 1 right"),
    ("patch turned over", lambda one: changed(one, "patch", over()), "'patch' is cut 0 as drafted and 1 as"),
    ("over the selvedge", lambda one: changed(one, "patch", moved(0, -2000)), "beyond the lower edge of the cloth"),
    ("tilted", lambda one: changed(behind(one, "sleeve"), "sleeve", turned(2)), "'sleeve' lies 2° off the grain"),
    ("across", lambda one: changed(behind(one, "sleeve"), "sleeve", turned(90)), "'sleeve' lies 90° off the grain"),
    ("one patch over", lambda one: added(one, first(one, "patch")), "'patch' is cut 2 as drafted"),
    ("half a back", lambda one: changed(one, "back", lambda it: replace(it, on_fold=True)), "not drawn with its own"),
    ("overlap", lambda one: _beside(one, -0.1), "overlap: they share a strip 0.10 mm wide"),
    ("half the buffer", lambda one: _beside(one, 2.5), "are 2.50 mm apart instead of 5.00"),
    ("inside another", lambda one: changed(one, "tab", _into(one)), "overlap: they share a strip"),
]  # fmt: skip


def _beside(layout: LaidMarker, gap: float) -> LaidMarker:
    """A tab behind the other, as far off as asked for."""
    layout = behind(behind(layout, "tab"), "tab")
    one, other = (laid for laid in layout.laid if laid.piece == "tab")
    x, y = one.outline.max(axis=0)[0] + gap, one.outline.min(axis=0)[1]
    place = np.array([x, y]) - other.outline.min(axis=0)
    return replace(layout, laid=(*layout.laid[:-1], moved(*place)(other)))


def _into(layout: LaidMarker) -> Callable[[Laid], Laid]:
    """Moves an outline into the middle of the back."""
    middle = first(layout, "back").outline.mean(axis=0)
    return lambda one: replace(one, outline=one.outline - one.outline.mean(axis=0) + middle)


@pytest.mark.parametrize(("forge", "reason"), [f[1:] for f in IN_ONE_LAYER], ids=[f[0] for f in IN_ONE_LAYER])
def test_forged_in_a_single_layer(forge: Callable[[LaidMarker], LaidMarker], reason: str) -> None:
    """One thing wrong in a single layer is seen, for the right reason."""
    layout, asked = flat()
    with pytest.raises(CheckError, match=reason):
        held(forge(layout), asked)


def test_what_is_within_the_tolerance_passes() -> None:
    """Half the tolerance is forgiven in overlap and buffer; twice is not."""
    layout, asked = flat(gap=mm(0))
    held(_beside(layout, -TOLERANCE / 2), asked)
    with pytest.raises(CheckError, match="overlap"):
        held(_beside(layout, -2 * TOLERANCE), asked)


def test_another_size() -> None:
    """The sleeve of another size in place of one is named."""
    sizes = [(sleeve(name="sleeve S"),), (sleeve(name="sleeve L", edges=sides(forging.LIMB, [12.0] * 4)),)]
    marker = solved(lay_mix([(sizes[0], 1), (sizes[1], 1)], TWILL, "folded"))
    asked = Asked(((sizes[0], 1), (sizes[1], 1)), TWILL, "folded")
    layout = LaidMarker.of(marker)
    held(layout, asked)
    large = first(layout, "sleeve L")
    forged = changed(layout, "sleeve S", lambda one: replace(large, piece="sleeve S"))
    with pytest.raises(CheckError, match="'sleeve S' is drawn with the outline of 'sleeve L'"):
        held(forged, asked)
