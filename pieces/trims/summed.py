"""The trims of several garments, summed up by kind: what is bought as one thing stands in one line."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces.trims.trim import TrimNeeded


def sum_trims(many: Iterable[tuple[int, TrimNeeded]]) -> tuple[TrimNeeded, ...]:
    """What is needed of all, each so many times; what is sold alike is one trim, in the order of the first of it.

    A length or a spacing that differs from garment to garment is left out of what is counted.
    """
    found: dict[tuple[object, ...], TrimNeeded] = {}
    for times, trim in many:
        more = replace(trim, count=trim.count * times, area=trim.area * times)
        if not trim.count:
            more = replace(more, needed=trim.needed * times)
        key = trim.name, bool(trim.count), trim.sold, trim.width
        known = found.get(key)
        found[key] = more if known is None else _sum(known, more)
    return tuple(found.values())


def _sum(known: TrimNeeded, more: TrimNeeded) -> TrimNeeded:
    is_alike = known.needed == more.needed
    counted = (known.needed if is_alike else 0.0) if known.count else known.needed + more.needed
    return replace(
        known,
        where=tuple(dict.fromkeys((*known.where, *more.where))),
        count=known.count + more.count,
        needed=counted,
        spacing=known.spacing if known.spacing == more.spacing else 0.0,
        area=known.area + more.area,
        at_once=max(known.at_once, more.at_once),
        usual=known.usual and more.usual,
    )
