"""Layouts that are one another's mirror images: of each kind one needs to be looked at."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.problem.item import Variant
    from nesting.problem.problem import Problem

    Half = tuple[int, int, int]

ALIKE = 1e-6


@dataclass(frozen=True)
class Anchor:
    """An outline of which some ways and halves of the cloth are enough.

    Parameters
    ----------
    item
        Its item, of which there is one.
    allowed
        Its ways, each with the half along (0 the first) and across (0 the lower) in which its middle lies.
    """

    item: int
    allowed: tuple[Half, ...]


def anchor_of(problem: Problem) -> Anchor | None:
    """The anchor that leaves least to look at; None where no layout is another's image."""
    if problem.choices or problem.faults or problem.repeat:
        return None
    images = [(flip, found) for flip in ((1, 0), (0, 1), (1, 1)) if (found := _image(problem, flip))]
    best: tuple[int, float, Anchor] | None = None
    for k, item in enumerate(problem.items):
        kept = [(flip, {v: to[1] for (i, v), to in found.items() if i == k}) for flip, found in images
                if all(to[0] == k for (i, _), to in found.items() if i == k)]
        if item.quantity != 1 or not kept:
            continue
        states = list(product(range(len(item.variants)), (0, 1), (0, 1)))
        seen: set[Half] = set()
        allowed = []
        for state in states:
            if state in seen:
                continue
            allowed.append(state)
            seen |= {state} | {(to[state[0]], state[1] ^ flip[0], state[2] ^ flip[1]) for flip, to in kept}
        rank = (len(kept), item.area)
        if best is None or rank > best[:2]:
            best = (*rank, Anchor(k, tuple(allowed)))
    return best[2] if best else None


def _image(problem: Problem, flip: tuple[int, int]) -> dict[tuple[int, int], tuple[int, int]] | None:
    """Where each way of each item comes to lie when the cloth is flipped along or across; None if one is not allowed."""
    low, high = min(b.low for b in problem.bands), max(b.high for b in problem.bands)
    found: dict[tuple[int, int], tuple[int, int]] = {}
    taken: set[int] = set()
    for k, item in enumerate(problem.items):
        if not item.quantity:
            continue
        to = next((other for other in [k, *range(len(problem.items))] if other not in taken and problem.items[other].quantity == item.quantity
                   and (ways := _ways(item.variants, problem.items[other].variants, flip, low + high)) is not None), None)
        if to is None:
            return None
        taken.add(to)
        found |= {(k, v): (to, w) for v, w in enumerate(ways)}
    return found


def _ways(own: tuple[Variant, ...], others: tuple[Variant, ...], flip: tuple[int, int], across: float) -> list[int] | None:
    if len(own) != len(others):
        return None
    found: list[int] = []
    for way in own:
        outline = way.outline.copy()
        low, high = way.low, way.high
        if flip[0]:
            outline[:, 0] = way.length - outline[:, 0]
        if flip[1]:
            outline[:, 1] = way.height - outline[:, 1]
            low, high = across - high - way.height, across - low - way.height
        to = next((w for w, other in enumerate(others) if w not in found and abs(other.low - low) < ALIKE and abs(other.high - high) < ALIKE and _same(outline, other.outline)), None)
        if to is None:
            return None
        found.append(to)
    return found


def _same(one: NDArray[np.float64], other: NDArray[np.float64]) -> bool:
    """Whether two outlines are alike, whichever corner and way round they begin."""
    if one.shape != other.shape:
        return False
    for ring in (one, one[::-1]):
        for start in np.flatnonzero(np.hypot(*(ring - other[0]).T) < ALIKE):
            if np.allclose(np.roll(ring, -int(start), axis=0), other, rtol=0, atol=ALIKE):
                return True
    return False
