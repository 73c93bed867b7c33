"""Random pieces on several cloths at once, settled with little effort: what asks for less never takes more."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from nesting.errors import NestingError
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import verify_asked
from reports.ask.offer import CONTAINED, FabricOffer
from reports.ask.wanted import asked_of
from reports.plan.settling import NAPS, SAME_LENGTH, Settling, settle
from tests.make.random_jobs import random_pieces

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker

CLOTHS = 5
"""Cloths that each random set of pieces is laid on."""

UNFOLD = ("folded", "double-folded", "part-folded", "fold-then-open", "crosswise")
"""Spreads that open out to a single layer."""


def includes(one: Settling, other: Settling) -> bool:
    """Whether every marker of another cloth is one of this, so that this one never takes more."""
    mine, its = one.offer, other.offer
    asks_less = mine.width >= its.width and NAPS.index(mine.nap) <= NAPS.index(its.nap) and mine.gap <= its.gap
    opens = not mine.gap and not its.repeat_across
    if not asks_less:
        return False
    ways: set[str] = {mine.spread, *CONTAINED.get(mine.spread, ())}
    if mine.spread == "best":
        ways |= {"folded", "open", "double-folded"}
    if its.spread in ways:
        return True
    return opens and "open" in ways and (its.spread in UNFOLD or its.spread == "best")


def random_cloths(rng: np.random.Generator) -> Iterator[FabricOffer]:
    """Cloths that differ in how they lie, in width, nap and gap."""
    width = int(rng.integers(80, 160)) * 10
    common: dict[str, Any] = {"selvedge": str(rng.choice(["0 mm", "10 mm"])), "waste_twins": bool(rng.random() < 0.3)}
    if rng.random() < 0.2:
        common |= {"repeat_along": "60 mm", "repeat_across": str(rng.choice(["0 mm", "50 mm"]))}
    gap, nap = str(rng.choice(["0 mm", "0 mm", "4 mm"])), [False, True, "by garment"][int(rng.integers(3))]
    spreads = ("folded", "folded", "open", "best", "part-folded", "fold-then-open", "double-folded")
    for number in range(CLOTHS):
        one = {"width": f"{width} mm", "gap": gap, "nap": nap, "spread": str(rng.choice(spreads))}
        if rng.random() < 0.3:
            one["width"] = f"{width + int(rng.choice([30, 200]))} mm"
        if rng.random() < 0.2:
            one["nap"] = [False, True, "by garment"][int(rng.integers(3))]
        if rng.random() < 0.2:
            one["gap"] = str(rng.choice(["0 mm", "2 mm", "4 mm"]))
        yield FabricOffer.model_validate({"name": f"cloth {number}"} | common | one)


def settled(offers: Sequence[FabricOffer], rng: np.random.Generator, rounds: int = 0) -> list[Settling]:
    """The same random pieces on several cloths; those on which they do not go are left out."""
    width = min(offer.width for offer in offers)
    pieces, garments = tuple(random_pieces(rng, width * 0.4, "piece")), int(rng.integers(1, 3))
    cloths = []
    for offer in offers:
        try:
            cloths.append(Settling(offer, tuple(map(offer.allowed, pieces)), garments))
        except NestingError:
            continue

    def search(asked: Sequence[tuple[Settling, Spread]]) -> list[Marker | None]:
        return [solve(one.problems[spread], MaxIterations(rounds)).marker for one, spread in asked]

    settle(cloths, search)
    return cloths


def try_settled(seed: int) -> int:
    """Settle the cloths of a seed, judge each marker, and hold them against one another: how many pairs were held.

    Raises
    ------
    AssertionError
        If cloth that asks for less takes more.
    CheckError
        If a marker does not give what was asked for.
    """
    rng = np.random.default_rng(seed)
    cloths, pairs = settled(list(random_cloths(rng)), rng, int(rng.integers(3))), 0
    for one in cloths:
        spread = one.best
        asked = asked_of(one.offer, spread, one.pieces, one.garments, one.depths[spread])
        verify_asked(one.found[spread], asked)
    for one in cloths:
        for other in cloths:
            if one is not other and includes(one, other):
                mine, its = one.length(one.best), other.length(other.best)
                assert mine <= its + SAME_LENGTH, f"seed {seed}: {_told(one, mine)} above {_told(other, its)}"
                pairs += 1
    return pairs


def _told(one: Settling, length: float) -> str:
    offer = one.offer
    return f"{offer.width:g} mm {offer.spread}, nap {offer.nap}, gap {offer.gap:g}: {length:.3f} mm {one.best}"
