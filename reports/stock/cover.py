"""What on hand covers of what a job or a run takes: lengths that must be whole, each from one roll or remnant.

A length in two pieces covers nothing, for a marker cannot be cut in two. Lengths of one group come from one shade lot:
those of one lay, or of one stack. A thing without a lot counts as a lot of its own. Nothing narrower is offered here.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, NamedTuple

from nesting.lays.roll_fit import deal
from pieces.units import SHORT

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from reports.stock.item import StockItem

WIDTHS_ALIKE = 1.0
"""Rib that differs in width by no more than this, mm, is as wide: no tape shows less."""


class NeedGroup(NamedTuple):
    """Lengths, mm, or one number, that must come from one lot; `name` says what for, such as ``ticket 2``."""

    name: str
    amounts: tuple[float, ...]


@dataclass(frozen=True)
class StockNeed:
    """What is taken of a cloth, a rib or a trim.

    Parameters
    ----------
    kind
        Whether it is cloth, rib or a trim.
    by_length
        Whether it is taken by length, or by number.
    width
        Of cloth and rib, mm; `wider` says whether cloth that is wider will do.
    mixes
        Whether things of several lots may be used together.
    """

    name: str
    kind: Literal["cloth", "rib", "trim"]
    groups: tuple[NeedGroup, ...]
    colour: str = ""
    width: float | None = None
    wider: bool = False
    by_length: bool = True
    mixes: bool = False

    def is_for(self, item: StockItem) -> bool:
        """Whether a thing is what is needed, whatever its width: by its name, and the colour where both have one."""
        kinds = ("roll", "remnant") if self.kind == "cloth" else (self.kind,)
        called = {_plain(self.name), _plain(self.name.partition(",")[0])}
        is_colour = not (self.colour and item.colour) or _plain(self.colour) == _plain(item.colour)
        is_so = item.kind in kinds and item.by_length == self.by_length
        return is_so and _plain(item.name) in called and is_colour

    def is_wide_enough(self, item: StockItem) -> bool:
        """Whether what was laid for the width needed lies on a thing as well."""
        if self.width is None or item.width is None:
            return True
        if self.kind == "rib" or not self.wider:
            return abs(item.width - self.width) <= WIDTHS_ALIKE and item.width >= self.width - SHORT
        return item.width >= self.width - SHORT


def _plain(name: str) -> str:
    """A name without regard to capitals and blanks."""
    return " ".join(name.split()).casefold()


class StockTake(NamedTuple):
    """What is taken of a thing: lengths, mm, or a number; for which groups."""

    item: StockItem
    amounts: tuple[float, ...]
    groups: tuple[str, ...]

    @property
    def amount(self) -> float:
        """All of it."""
        return sum(self.amounts)


@dataclass(frozen=True)
class Cover:
    """What on hand covers of a need.

    Parameters
    ----------
    missing
        Groups that nothing was found for.
    known
        Everything of that name on hand, wide enough or not.
    """

    need: StockNeed
    takes: tuple[StockTake, ...]
    missing: tuple[NeedGroup, ...]
    known: tuple[StockItem, ...] = field(default=())

    @property
    def is_whole(self) -> bool:
        """Whether nothing is left to buy."""
        return not self.missing

    @property
    def longest(self) -> StockItem | None:
        """The longest thing that is wide enough."""
        wide = [item for item in self.known if self.need.is_wide_enough(item)]
        return max(wide, key=lambda item: item.left, default=None)

    @property
    def narrower(self) -> list[StockItem]:
        """Cloth of that name that the layout was not laid for, the longest first."""
        return sorted((i for i in self.known if not self.need.is_wide_enough(i)), key=lambda item: -item.left)


def cover(need: StockNeed, items: Iterable[StockItem], taken: Mapping[str, float] | None = None) -> Cover:
    """Find what on hand covers a need: the largest group first, each of it from the smallest lot that holds it.

    What is not found may yet be possible: it is never said that it is not.

    Parameters
    ----------
    taken
        What others take of things already, by their ids.
    """
    known = tuple(item for item in items if need.is_for(item))
    left = {item.id: float(item.left) - (taken or {}).get(item.id, 0.0) for item in known}
    takes: dict[str, list[tuple[float, str]]] = defaultdict(list)
    missing = []
    wide = [item for item in known if need.is_wide_enough(item)]
    for group in sorted(need.groups, key=lambda group: -sum(group.amounts)):
        found = _find(need, group, wide, left)
        if found is None and need.mixes and not need.by_length:
            found = _counted(group.amounts[0], wide, left)
            missing.append(NeedGroup(group.name, (group.amounts[0] - sum(amount for _, amount in found),)))
        elif found is None:
            missing.append(group)
            continue
        for id_, amount in found or ():
            left[id_] -= amount
            takes[id_].append((amount, group.name))
    order = [group.name for group in need.groups]
    return Cover(
        need,
        tuple(_take(item, takes[item.id], order) for item in known if item.id in takes),
        tuple(sorted(missing, key=lambda group: order.index(group.name))),
        known,
    )


def _take(item: StockItem, parts: Sequence[tuple[float, str]], order: Sequence[str]) -> StockTake:
    groups = dict.fromkeys(sorted((name for _, name in parts), key=order.index))
    return StockTake(item, tuple(amount for amount, _ in parts), tuple(groups))


def _find(
    need: StockNeed, group: NeedGroup, items: Sequence[StockItem], left: Mapping[str, float]
) -> list[tuple[str, float]] | None:
    """What each length of a group, or its number, is taken of, from one lot; None where none was found."""
    lots: dict[str, list[StockItem]] = defaultdict(list)
    for item in items:
        lots["" if need.mixes else f"lot {item.lot}" if item.lot else item.id].append(item)
    for lot in sorted(lots.values(), key=lambda lot: sum(left[item.id] for item in lot)):
        found = _dealt(group, lot, left) if need.by_length else _counted(sum(group.amounts), lot, left)
        if sum(amount for _, amount in found) >= sum(group.amounts) - SHORT:
            return found
    return None


def _dealt(group: NeedGroup, lot: Sequence[StockItem], left: Mapping[str, float]) -> list[tuple[str, float]]:
    """The lengths of a group for which a thing was found that holds them whole, the shortest things first."""
    lot = sorted(lot, key=lambda item: left[item.id])
    dealt = deal(group.amounts, [left[item.id] + SHORT for item in lot])
    return [(lot[roll].id, amount) for roll, amount in zip(dealt, group.amounts, strict=True) if roll is not None]


def _counted(number: float, lot: Sequence[StockItem], left: Mapping[str, float]) -> list[tuple[str, float]]:
    """So many pieces, or as many as there are, from the things that have least."""
    found: list[tuple[str, float]] = []
    for item in sorted(lot, key=lambda item: left[item.id]):
        if number and left[item.id] > 0:
            found.append((item.id, min(number, left[item.id])))
            number -= found[-1][1]
    return found


def cover_all(needs: Iterable[StockNeed], items: Sequence[StockItem]) -> list[Cover]:
    """Cover several needs one after another: what one takes is not there for the next."""
    taken: dict[str, float] = defaultdict(float)
    covers = []
    for need in needs:
        covers.append(cover(need, items, taken))
        for take in covers[-1].takes:
            taken[take.item.id] += take.amount
    return covers
