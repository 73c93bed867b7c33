"""Options that change nothing: found by changing one at a time, so that none is swallowed without a word."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

import pytest

from pieces import GARMENTS
from pieces.body.sizes import find_table
from pieces.errors import PieceError
from pieces.garments.idle import idle_notes
from pieces.garments.tote import ToteStyle
from pieces.length import mm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces import PieceSet
    from pieces.garments import Garment

ALL = (
    *(name for name in GARMENTS if name.endswith("-skirt")),
    "elastic-trousers",
    "joggers",
    "shorts",
    "apron",
    "tote",
)
BODY = find_table("women").body("92")
SWATCH = {"swatch_relaxed": mm(100.0), "swatch_stretched": mm(150.0)}
MORE: dict[str, tuple[dict[str, Any], ...]] = {
    "joggers": (SWATCH, {**SWATCH, "band_rule": "stretch", "waistband": "rib"}),
    "elastic-trousers": ({"inseam": mm(200.0)},),
    "gathered-skirt": ({"tiers": "3", "waistband": "folded"},),
    "apron": ({"bib_height": mm(0.0)},),
    "tote": ({"depth": mm(0.0)},),
}
"""Styles to start from beside those that differ from the usual one in a choice."""


def starts(garment: Garment) -> Iterator[dict[str, Any]]:
    """The usual style, those that differ from it in one choice, and more."""
    yield {}
    yield from MORE.get(garment.name, ())
    for each in fields(garment.style):
        if each.metadata["kind"] == "choice":
            yield from ({each.name: word} for word in choices(garment, each.name) if word != each.default)


def choices(garment: Garment, name: str) -> tuple[str, ...]:
    """The words of a choice."""
    return get_args(get_type_hints(garment.style)[name])


def others(garment: Garment, name: str, now: Any) -> Iterator[Any]:
    """Other values of an option."""
    kind = next(each.metadata["kind"] for each in fields(garment.style) if each.name == name)
    if kind == "choice":
        yield from (word for word in choices(garment, name) if word != now)
    elif kind == "share":
        yield now - 0.05
    else:
        yield from (mm((now or 100.0) * times) for times in (1.1, 0.9))


def seen(garment: Garment, style: Any, drafted: PieceSet) -> Any:
    """All of a draft that can be cut, bought or sewn."""
    pieces = [
        (
            *(piece.name, piece.cut, piece.material, piece.lies, piece.label),
            piece.cut_line.round(4).tolist(),
            [(edge.name, edge.allowance) for edge in piece.edges],
            piece.notches,
            piece.drill_points,
            piece.inner,
        )
        for piece in drafted
    ]
    assert garment.trims and garment.steps
    return pieces, garment.trims(drafted, style), garment.steps(drafted, style)


def is_told(garment: Garment, start: Any, before: PieceSet, first: Any, name: str) -> bool:
    """Whether another value of an option changes the draft, is refused, or is told of."""
    for value in others(garment, name, getattr(start, name)):
        try:
            style = replace(start, **{name: value})
            drafted = garment.draft(BODY, style)
        except PieceError:
            return True
        if any(note.startswith(f"{name}:") for note in drafted.notes) or drafted.notes != before.notes:
            return True
        if seen(garment, style, drafted) != first:
            return True
    return False


@pytest.mark.parametrize("name", ALL)
def test_no_option_is_swallowed(name: str) -> None:
    """Whatever is set changes what is cut, bought or sewn, or is refused, or a note says that it changes nothing."""
    garment = GARMENTS[name]
    for asked in starts(garment):
        try:
            start = garment.style(**asked)
            before = garment.draft(BODY, start)
        except PieceError:
            continue
        first, names = seen(garment, start, before), [each.name for each in fields(garment.style)]
        swallowed = [option for option in names if not is_told(garment, start, before, first, option)]
        assert swallowed == [], asked


def test_each_idle_option_is_named_once() -> None:
    """What is at its default is not told; nor is what is not idle; what two rows name is told once."""
    style = ToteStyle(pocket_mouth="6 in", hem="1 in")
    rows = (
        (("pocket_mouth", "pocket_cloth"), True, "no pocket is asked for"),
        (("pocket_mouth",), True, "there is no pocket"),
        (("hem",), False, "there is no hem"),
    )
    assert list(idle_notes(style, *rows)) == ["pocket_mouth: no pocket is asked for, so it changes nothing"]
