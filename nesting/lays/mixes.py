"""Mixes: which garments may share a marker."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import combinations_with_replacement
from operator import le
from typing import TYPE_CHECKING

from nesting.errors import LayPlanError
from pieces.units import bound_both, need_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.lays.order import LayRules, Lengths, Mix, StyleOrder

MOST_MIXES = 100_000
"""Mixes listed at the most; of more, those of fewer garments are listed, and the same laid over and over."""


def list_mixes(order: StyleOrder, rules: LayRules, lengths: Lengths, end_loss: float) -> tuple[dict[Mix, float], bool]:
    """Mixes that the rules allow and the order can use, with their marker lengths, mm; and whether these are all.

    Raises
    ------
    LayPlanError
        If a size that is ordered is in none of them.
    """
    number, wanted = len(order.sizes), [order.most_of(colour) for colour in order.colours]
    listed, complete = (sorted(lengths), True) if isinstance(lengths, Mapping) else _listed(wanted, rules)
    for mix in listed:
        if len(mix) != number or min(mix) < 0 or not any(mix):
            raise LayPlanError(f"a mix needs a count for each of {number} sizes, got {mix}")
    length_of = lengths.__getitem__ if isinstance(lengths, Mapping) else lengths
    usable = {mix: length_of(mix) for mix in listed if sum(mix) <= rules.most_garments and _is_wanted(mix, wanted)}
    fitting = {
        mix: length
        for mix, length in usable.items()
        if length is not None and 0 < length <= rules.longest - end_loss + 1e-6
    }
    for index, size in enumerate(order.sizes):
        if any(order.least.get((colour, size), 0) for colour in order.colours) and not any(m[index] for m in fitting):
            raise LayPlanError(_why_none(size, [long for m, long in usable.items() if m[index]], rules, end_loss))
    return fitting, complete


def singles(order: StyleOrder) -> list[Mix]:
    """A mix of one garment for each size that is ordered."""
    number, wanted = len(order.sizes), [order.most_of(colour) for colour in order.colours]
    mixes = [tuple(int(at == index) for at in range(number)) for index in range(number)]
    return [mix for mix in mixes if _is_wanted(mix, wanted)]


def _is_wanted(mix: Mix, wanted: list[list[int]]) -> bool:
    """Whether some colour wants all that one ply of it gives."""
    return any(all(map(le, mix, most)) for most in wanted)


def _listed(wanted: list[list[int]], rules: LayRules) -> tuple[list[Mix], bool]:
    number = len(wanted[0])
    some = [index for index in range(number) if any(most[index] for most in wanted)]
    most = min(rules.most_garments, max(map(sum, wanted)))
    held = most
    while held > 1 and math.comb(len(some) + held, held) > MOST_MIXES:
        held -= 1
    mixes = list(_mixes(number, some, held))
    if held < most:
        mixes += [
            tuple(times * n for n in mix)
            for mix in mixes
            for times in range(held // sum(mix) + 1, most // sum(mix) + 1)
        ]
    return mixes, held == most


def _mixes(number: int, wanted: list[int], most: int) -> Iterator[Mix]:
    for garments in range(1, most + 1):
        for chosen in combinations_with_replacement(wanted, garments):
            mix = [0] * number
            for index in chosen:
                mix[index] += 1
            yield tuple(mix)


def _why_none(size: str, lengths: list[float | None], rules: LayRules, end_loss: float) -> str:
    laid = [length for length in lengths if length is not None]
    if not laid:
        return f"no marker holds size '{size}': lay a marker with it, or take the size out of the order"
    return (
        f"a marker with size '{size}' takes at least {need_both(min(laid) + end_loss)}, with its ends; the"
        f" longest lay is {bound_both(rules.longest)}: use a longer table, wider cloth, or divide the pieces of this "
        "size"
    )
