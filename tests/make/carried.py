"""Random markers and the problems that they must be carried to: cloth that asks for less than theirs."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.edit.carry import carry
from nesting.errors import NestingError
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import verify_asked
from pieces.length import mm
from tests.make.random_jobs import Job, random_job

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.cloth.fabric import Fabric
    from nesting.marker.marker import Marker
    from nesting.verify import Asked

LONGER = 1e-6
"""By how much a carried marker may be longer where it must be no longer, mm: rounding."""


@dataclass(frozen=True, eq=False)
class Easier:
    """Cloth that asks for less.

    Parameters
    ----------
    what
        In what.
    job
        The same pieces on it.
    is_sure
        Whether every marker holds there: one of cloth with a gap may not where a fold is laid open, nor one whose
        pattern lies otherwise.
    """

    what: str
    job: Job
    is_sure: bool = True


def easier(job: Job, rng: np.random.Generator) -> Iterator[Easier]:
    """All that asks for less than a job."""
    asked, fabric = job.asked, job.asked.fabric
    matched = fabric.repeat_along or fabric.repeat_across

    def on(cloth: Fabric, **changes: object) -> Job:
        return replace(job, asked=replace(asked, fabric=cloth, **changes))  # type: ignore[arg-type]

    if asked.spread in ("folded", "double-folded", "crosswise", "part-folded", "fold-then-open"):
        is_sure = not fabric.gap and (not fabric.repeat_across or asked.spread == "folded") and not asked.flaws
        yield Easier("laid open", on(fabric, spread="open", depth=None), is_sure)
    # A depth or stretches are settled for each cloth anew: they are the same only by chance.
    is_settled = asked.spread not in ("part-folded", "fold-then-open")
    wider = mm(fabric.width + float(rng.choice([0.5, 25.4, 300.0])))
    if not asked.flaws:
        yield Easier("wider", on(replace(fabric, width=wider)), is_settled)
    if fabric.nap:
        yield Easier("without nap", on(replace(fabric, nap=False)), is_settled)
    if fabric.nap is True:
        yield Easier("nap by garment", on(replace(fabric, nap="by garment")), is_settled)
    if fabric.gap:
        yield Easier("narrower gap", on(replace(fabric, gap=mm(fabric.gap / 2))), is_settled and not asked.flaws)
        yield Easier("no gap", on(replace(fabric, gap=mm(0))), is_settled and not asked.flaws)
    if matched:
        yield Easier("no pattern", on(replace(fabric, repeat_along=mm(0), repeat_across=mm(0))), is_settled)
    if asked.flaws:
        yield Easier("no faults", on(fabric, flaws=()), is_settled)


def try_carried(seed: int) -> dict[str, int]:
    """Carry the marker of a seed's job to all that asks for less, and judge each: how many held of each kind.

    Raises
    ------
    AssertionError
        If one that must hold does not, or is longer.
    CheckError
        If one does not give what was asked for.
    """
    job, rng = random_job(seed), np.random.default_rng(seed)
    counts: dict[str, int] = {}
    try:
        problem, _ = job.problem()
    except NestingError:
        return counts
    marker = solve(problem, MaxIterations(job.rounds), seed=seed).marker
    for one in easier(job, rng):
        try:
            other, asked = one.job.problem()
        except NestingError:
            continue
        counts |= {f"{one.what} {_judged(carry(marker, other), asked, marker.cloth_length, one, seed)}": 1}
    return counts


def _judged(carried: Marker | None, asked: Asked, length: float, one: Easier, seed: int) -> str:
    if carried is None:
        assert not one.is_sure, f"seed {seed}: not carried to cloth {one.what}"
        return "not held"
    verify_asked(carried, asked)
    assert not one.is_sure or carried.cloth_length <= length + LONGER, f"seed {seed}: longer on cloth {one.what}"
    return "held"
