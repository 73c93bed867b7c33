"""The trims of a run: what the drafts of all its garments need, in numbers to buy.

An order's own entries say what is paid for trims; these lines say what the drafts call for, so that none is forgotten.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from reports.plan.shopping import made_to_order, trim_line

if TYPE_CHECKING:
    from pieces.trims.trim import TrimNeeded
    from reports.ask.order.order import Order
    from reports.plan.shopping import ShoppingLine
    from reports.run.garments import Garments, Kinds

MOST_NAMED = 3
"""Of more sizes those of a trim are not named, where it is for all garments."""


@dataclass(frozen=True)
class TrimOfRun:
    """A trim for all garments of some sizes.

    Parameters
    ----------
    line
        What to buy, in all.
    sizes
        How many garments of each size, or for each client, it is for.
    of_all
        Whether that is every garment that is cut.
    """

    line: ShoppingLine
    sizes: dict[str, int]
    of_all: bool = False

    @property
    def words(self) -> tuple[str, str, str, str]:
        """What it is, how much of it, for which garments, and where it is used."""
        made = " (made to order)" if made_to_order(self.line) else ""
        sizes = ", ".join(f"{count} × {size}" for size, count in self.sizes.items())
        if self.of_all and len(self.sizes) > MOST_NAMED:
            sizes = f"all {sum(self.sizes.values())} garments"
        return self.line.name, self.line.buy + made, sizes, ", ".join(self.line.where)


def trims_of_run(order: Order, garments: Garments, cut: Kinds) -> tuple[TrimOfRun, ...]:
    """What the drafts of all garments that are cut need; nothing of imported pieces, whose trims are not known.

    Zips of one length are one line, as are the buttons of all sizes, and all thread.
    """
    known = order.model().trims
    if known is None:
        return ()
    groups: dict[tuple[str, float], list[tuple[TrimNeeded, str, int]]] = {}
    for size in garments.sizes:
        number = sum(count for (_, name), count in cut.items() if name == size.name)
        for trim in known(size.pieces, order.styled()) if number else ():
            key = trim.name, trim.sold if trim.count else trim.width
            groups.setdefault(key, []).append((trim, size.name, number))
    return tuple(_of_group(some, order, sum(cut.values())) for some in groups.values())


def _of_group(some: list[tuple[TrimNeeded, str, int]], order: Order, all_cut: int) -> TrimOfRun:
    """One line of several sizes: what they need is summed up before it is rounded up; of so many garments in all."""
    first = some[0][0]
    where = dict.fromkeys(place for trim, _, _ in some for place in trim.where)
    whole = replace(
        first,
        where=tuple(where),
        count=sum(trim.count * number for trim, _, number in some),
        needed=sum(trim.needed * number for trim, _, number in some),
        area=sum(trim.area * number for trim, _, number in some),
    )
    sizes = {size: number for _, size, number in some}
    return TrimOfRun(trim_line(whole, 1, order.written_in), sizes, sum(sizes.values()) == all_cut)
