"""Mistakes made on purpose in what lays pieces: the independent check sees each of them, and the other one does not."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from nesting.errors import WrongMarkerError
from nesting.marker.opinion import check
from nesting.problem import grain, lay, ways
from nesting.verify import verify
from tests.make.forging import BIAS, TWILL, back, laid, patch, sleeve, tab

if TYPE_CHECKING:
    from nesting.cloth.fabric import Fabric
    from pieces import Piece

VELVET = replace(TWILL, nap=True)


def nap_ignored(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pieces are turned either way, nap or no nap."""
    sound = grain.turns
    monkeypatch.setattr(ways, "turns", lambda piece, heads, **how: sound(piece, (0.0, 180.0), **how))


def first_dropped(monkeypatch: pytest.MonkeyPatch) -> None:
    """The first piece of every garment is not laid."""
    sound = lay.lay_mix
    monkeypatch.setattr(lay, "lay_mix", lambda sets, *of, **how: sound([(s[1:], n) for s, n in sets], *of, **how))


def hands_exchanged(monkeypatch: pytest.MonkeyPatch) -> None:
    """A left is laid for each right, and no right."""
    sound = ways.free_ways

    def ways_of(piece: Piece, outline: Any, cloth: Any, hands: Any, *how: Any, **more: Any) -> Any:
        return sound(piece, outline, cloth, [False for _ in hands], *how, **more)

    monkeypatch.setattr(lay, "free_ways", ways_of)


def twin_on_wrong_grain(monkeypatch: pytest.MonkeyPatch) -> None:
    """A piece turned over is turned as if it were not."""
    sound = grain.turns

    def turns(piece: Piece, heads: Any, **how: Any) -> Any:
        return sound(piece, heads, **{key: value for key, value in how.items() if key != "mirrored"})

    monkeypatch.setattr(ways, "turns", turns)


PIECES = [back(), sleeve(), tab()]
ON_BIAS = [sleeve(grain=BIAS), patch()]

MUTANTS: dict[str, tuple[Any, list[Piece], Fabric, str]] = {
    "nap ignored": (nap_ignored, [back(), *(sleeve(name=f"sleeve {i}") for i in range(6))], VELVET, "against the nap"),
    "first piece dropped": (first_dropped, PIECES, TWILL, "'back' is cut 0 as drafted"),
    "left for right": (hands_exchanged, PIECES, TWILL, "'sleeve' is cut 2 left and 0 right"),
    "twin on the wrong grain": (twin_on_wrong_grain, ON_BIAS, TWILL, "'sleeve' lies .*90° off the grain"),
}


@pytest.mark.parametrize("name", MUTANTS)
def test_each_mutant_is_caught(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """What the mutant lays passes the check that believes the problem, and not the one that begins from the pieces."""
    mutant, pieces, fabric, reason = MUTANTS[name]
    verify(laid(pieces, fabric, "open"), pieces, fabric, "open")
    mutant(monkeypatch)
    marker = laid(pieces, fabric, "open")
    check(marker)
    with pytest.raises(WrongMarkerError, match=reason):
        verify(marker, pieces, fabric, "open")


def test_twin_of_a_symmetric_outline(monkeypatch: pytest.MonkeyPatch) -> None:
    """A piece of symmetric outline taken for its own twin in spite of a drill point off its centre is caught."""
    pieces = [tab(drill_points=((20.0, 10.0),))]
    name = "is_own_twin" if hasattr(lay, "is_own_twin") else "is_symmetric"
    monkeypatch.setattr(lay, name, lambda *of: True)
    with pytest.raises(WrongMarkerError, match="'tab' is cut 1 as drafted and 1 as its mirror image, needed 2"):
        verify(laid(pieces, TWILL, "folded"), pieces, TWILL, "folded")
