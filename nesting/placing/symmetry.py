"""Layouts that are one another's mirror images: of each kind one needs to be looked at."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations, product
from typing import TYPE_CHECKING

import numpy as np

from nesting.problem.pared import pared

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

    from nesting.problem.item import Variant
    from nesting.problem.problem import Problem

    Half = tuple[int, int, int]
    Flip = tuple[int, int]
    _Images = Sequence[tuple[Flip, dict[tuple[int, int], tuple[int, int]]]]

FLIPS = ((1, 0), (0, 1), (1, 1))
"""Along, across, and both, which is a turn by half."""

ALIKE = 1e-6
"""Outlines and places that differ by less, mm, are alike: a proof allows for far more."""


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


@dataclass(frozen=True)
class AnchoredPair:
    """Two outlines that change places in an image; it is enough to look at where their middles lie, taken together.

    Parameters
    ----------
    items
        Of each there is one.
    along, across
        Whether the point half way between their middles may be taken to lie in the first half, and in the lower one.
    """

    items: tuple[int, int]
    along: bool
    across: bool


def anchor_of(problem: Problem) -> Anchor | AnchoredPair | None:
    """The anchor that leaves least to look at; None where no layout is another's image."""
    if problem.choices or problem.faults or problem.repeat:
        return None
    problem = pared(problem)  # as the model sees it: paring may take a part off, and with it an image
    images = [(flip, image) for flip in FLIPS if (image := _image(problem, flip))]
    found = [*_singles(problem, images), *_pairs(problem, images)]
    return max(found, key=lambda one: one[:3])[3] if found else None


def _singles(problem: Problem, images: _Images) -> Iterator[tuple[int, bool, float, Anchor | AnchoredPair]]:
    """Outlines that stay themselves in some images: in how many, that it is one, its area, and the anchor."""
    for k, item in enumerate(problem.items):
        ways = range(len(item.variants))
        own = [(flip, [to[k, v][1] for v in ways]) for flip, to in images if all(to[k, v][0] == k for v in ways)]
        if item.quantity == 1 and own:
            yield len(own), True, item.area, Anchor(k, tuple(_different(len(ways), own)))


def _pairs(problem: Problem, images: _Images) -> Iterator[tuple[int, bool, float, Anchor | AnchoredPair]]:
    """The same of two outlines that change places in some images, or stay themselves."""
    single = [k for k, item in enumerate(problem.items) if item.quantity == 1]
    for pair in combinations(single, 2):
        flips = {flip for flip, to in images if {to[k, 0][0] for k in pair} == set(pair)}
        if flips:
            along, across = (1, 0) in flips or flips == {(1, 1)}, (0, 1) in flips
            area = sum(problem.items[k].area for k in pair)
            yield len(flips), False, area, AnchoredPair(pair, along, across)


def _different(ways: int, images: Sequence[tuple[Flip, Sequence[int]]]) -> Iterator[Half]:
    """Ways and halves of the cloth that are not one another's image."""
    seen: set[Half] = set()
    for way, along, upper in product(range(ways), (0, 1), (0, 1)):
        if (way, along, upper) not in seen:
            yield way, along, upper
            seen |= {(to[way], along ^ flip[0], upper ^ flip[1]) for flip, to in images}


def _image(problem: Problem, flip: Flip) -> dict[tuple[int, int], tuple[int, int]] | None:
    """Where each way of each item lies when the cloth is flipped along or across; None if one is not allowed."""
    across = min(band.low for band in problem.bands) + max(band.high for band in problem.bands)
    found: dict[tuple[int, int], tuple[int, int]] = {}
    taken: set[int] = set()
    for k, item in enumerate(problem.items):
        for other in (k, *range(len(problem.items))):
            to = problem.items[other]
            if other in taken or to.quantity != item.quantity:
                continue
            ways = _ways(item.variants, to.variants, flip, across)
            if ways is not None:
                taken.add(other)
                found |= {(k, v): (other, way) for v, way in enumerate(ways)}
                break
        else:
            return None
    return found


def _ways(own: tuple[Variant, ...], others: tuple[Variant, ...], flip: Flip, across: float) -> list[int] | None:
    """Which of another item's ways each way becomes; None if one becomes none."""
    found: list[int] = []
    for way in own if len(own) == len(others) else ():
        outline, low, high = way.outline.copy(), way.low, way.high
        if flip[0]:
            outline[:, 0] = way.length - outline[:, 0]
        if flip[1]:
            outline[:, 1] = way.height - outline[:, 1]
            low, high = across - high - way.height, across - low - way.height
        for w, other in enumerate(others):
            off = max(abs(other.low - low), abs(other.high - high))
            if w not in found and off < ALIKE and _same(outline, other.outline):
                found.append(w)
                break
        else:
            return None
    return found if len(own) == len(others) else None


def _same(one: NDArray[np.float64], other: NDArray[np.float64]) -> bool:
    """Whether two outlines are alike, whichever corner and way round they begin."""
    if one.shape != other.shape:
        return False
    for ring in (one, one[::-1]):
        for start in np.flatnonzero(np.hypot(*(ring - other[0]).T) < ALIKE):
            if np.allclose(np.roll(ring, -int(start), axis=0), other, rtol=0, atol=ALIKE):
                return True
    return False
