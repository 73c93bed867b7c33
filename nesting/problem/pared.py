"""A problem as a proof sees it: pieces pared by half the tolerance."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.tolerance import ALLOWED, pare

if TYPE_CHECKING:
    from nesting.problem.item import Item, Variant
    from nesting.problem.problem import Problem


def pared(problem: Problem, depth: float = ALLOWED) -> Problem:
    """The problem as a proof sees it: its pieces pared by half a depth all round, its bands wider by as much.

    Each marker of the problem that passes the check with this tolerance, of length L, is one of the pared problem
    without any overlap, from half a depth before its start to half a depth behind its end: of length L + `depth`.
    Faults, and lines of a pattern, are left out, which only makes it easier.

    Parameters
    ----------
    depth
        Tolerance, mm.
    """
    return replace(
        problem,
        bands=tuple(replace(band, low=band.low - depth / 2, high=band.high + depth / 2) for band in problem.bands),
        items=tuple(_pared_item(item, depth) for item in problem.items),
        faults=(),
        repeat=None,
    )


def _pared_item(item: Item, depth: float) -> Item:
    return replace(item, variants=tuple(_pared_variant(variant, depth) for variant in item.variants))


def _pared_variant(variant: Variant, depth: float) -> Variant:
    outline = pare(variant.outline, depth / 2)
    x, y = outline.min(axis=0).tolist()
    low, high = variant.low - depth + y, variant.high + depth + y
    return replace(variant, outline=outline - (x, y), low=low, high=high, match=None)
