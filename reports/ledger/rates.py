"""Rates by what was done: minutes a garment and cloth against the plan, each with the number of runs it rests on."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterable

    from reports.ledger.orders import LedgerOrder


class MinuteRate(NamedTuple):
    """Minutes a garment of one kind of work, by all runs of a garment together, and by the quickest and slowest.

    `planned` is what the last of these orders planned; None if it planned nothing.
    """

    garment: str
    work: str
    minutes: float
    runs: int
    garments: int
    least: float
    most: float
    planned: float | None


class ClothRate(NamedTuple):
    """Cloth used for each length planned, by all runs of a garment that were cut whole.

    `margin` is what to add to a cloth, percent, so that as much is planned as was used: 0 where less was used.
    """

    garment: str
    factor: float
    runs: int
    planned: float
    used: float
    least: float
    most: float

    @property
    def margin(self) -> float:
        """The percentage to write as a cloth's ``margin``, to the next tenth."""
        return max(0.0, -(-round((self.factor - 1) * 1e6) // 1000) / 10)


def minute_rates(orders: Iterable[LedgerOrder]) -> list[MinuteRate]:
    """Minutes a garment, by garment and work; of what nobody has timed there is none."""
    by_work: dict[tuple[str, str], list[LedgerOrder]] = defaultdict(list)
    for order in orders:
        for work in dict.fromkeys(one.work for one in order.worked):
            by_work[order.data.garment, work].append(order)
    return [_minute_rate(garment, work, by_work[garment, work]) for garment, work in sorted(by_work)]


def _minute_rate(garment: str, work: str, orders: list[LedgerOrder]) -> MinuteRate:
    each = []
    for order in orders:
        worked = [one for one in order.worked if one.work == work]
        each.append((sum(one.minutes for one in worked), sum(one.garments for one in worked)))
    rates = [minutes / garments for minutes, garments in each]
    minutes, garments = sum(one for one, _ in each), sum(one for _, one in each)
    planned = orders[-1].planned_minutes(work)
    return MinuteRate(garment, work, minutes / garments, len(each), garments, min(rates), max(rates), planned)


def cloth_rates(orders: Iterable[LedgerOrder]) -> list[ClothRate]:
    """Cloth used against cloth planned, by garment.

    Only orders count that were cut whole, and of whose every cloth some use was entered: of others it is not known how
    much was used for what was planned.
    """
    by_garment: dict[str, list[tuple[float, float]]] = defaultdict(list)
    for order in orders:
        cloths = [(planned, used) for planned, used in order.cloths.values() if planned is not None]
        if order.is_cut and cloths and all(used > 0 for _, used in cloths):
            by_garment[order.data.garment].append((sum(p for p, _ in cloths), sum(u for _, u in cloths)))
    found = []
    for garment, each in sorted(by_garment.items()):
        planned, used = sum(one for one, _ in each), sum(one for _, one in each)
        factors = [u / p for p, u in each]
        found.append(ClothRate(garment, used / planned, len(each), planned, used, min(factors), max(factors)))
    return found
