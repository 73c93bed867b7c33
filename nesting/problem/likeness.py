"""Whether two problems are alike, so that a marker of the one is a marker of the other."""

from __future__ import annotations

from dataclasses import replace
from itertools import zip_longest
from typing import TYPE_CHECKING, Any

import numpy as np

from nesting.tolerance import TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.cloth.band import Band
    from nesting.cloth.repeat import Repeat
    from nesting.problem.item import Item, Variant
    from nesting.problem.problem import Problem

SAME = TOLERANCE / 100
"""Sizes that differ by no more, mm, are the same: they were kept in a file and read again."""

_WAY = ("turn", "mirrored", "band", "low", "high", "on_fold", "tilt", "match")


def difference(one: Problem, other: Problem) -> str:
    """The first thing in which two problems differ, in words; empty if a marker of the one is one of the other.

    Where the marker begins on the cloth's pattern is no difference: a search chooses it.
    """
    return "" if one is other else next(_differences(one, other), "")


def _differences(one: Problem, other: Problem) -> Iterator[str]:
    for name, size, other_size in (
        ("width", one.width, other.width),
        ("gap", one.gap, other.gap),
        ("border", one.border, other.border),
        ("number of lengths of cloth", one.lengths, other.lengths),
    ):
        if abs(size - other_size) > SAME:
            yield f"its {name} is {other_size:g}, not {size:g}"
    if len(one.items) != len(other.items):
        yield f"it has {len(other.items)} kinds of pieces, not {len(one.items)}"
    for item, other_item in zip(one.items, other.items, strict=False):
        yield from _items_differ(item, other_item)
    if not _same([_lies(band) for band in one.bands], [_lies(band) for band in other.bands]):
        yield "its cloth lies in another way"
    if one.choices != other.choices:
        yield "other pieces stand in for one another"
    if not _same(_pattern(one.repeat), _pattern(other.repeat)):
        yield "its cloth has another pattern"
    if not _same(one.faults, other.faults):
        yield "its cloth has other faults"
    for part, other_part in zip_longest(one.stretches, other.stretches):
        yield from _differences(part, other_part) if part and other_part else ["it has another number of stretches"]


def _items_differ(one: Item, other: Item) -> Iterator[str]:
    if one.name != other.name:
        yield f"it has '{other.name}' in place of '{one.name}'"
    if one.quantity != other.quantity:
        yield f"it has '{one.name}' {other.quantity} times, not {one.quantity}"
    if one.yields != other.yields or not _same([_way(v) for v in one.variants], [_way(v) for v in other.variants]):
        yield f"'{one.name}' has another outline, or may lie in other ways"


def _way(variant: Variant) -> list[Any]:
    return [variant.outline, *(getattr(variant, name) for name in _WAY)]


def _lies(band: Band) -> list[Any]:
    """How a band lies; where along the marker it begins is settled by the search."""
    return [band.low, band.high, band.layers, band.mirrored, band.nap_turned, band.low_edge, band.high_edge]


def _pattern(repeat: Repeat | None) -> list[Any]:
    return [] if repeat is None else [*vars(replace(repeat, start=0.0)).values()]


def _same(one: Any, other: Any) -> bool:
    """Whether all that lies in two lists is the same, whole words, numbers and outlines."""
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(_same, one, other))
    if isinstance(one, str) or one is None or other is None or isinstance(other, str):
        return bool(one == other)
    return np.shape(one) == np.shape(other) and bool(np.allclose(one, other, rtol=0, atol=SAME))
