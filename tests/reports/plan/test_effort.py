"""The effort of a search: by work or by time, and what ends it."""

from __future__ import annotations

import math

from nesting.search.meter import WorkMeter
from nesting.search.stop import AnyOf, Interrupted, MaxWork, SearchTime
from reports.ask.offer import FabricOffer
from reports.asking.options import ManySearch, OneSearch
from reports.plan.effort import PROOF, TO_PROVE, USUAL, Effort


def test_by_work_or_by_time() -> None:
    """Seconds, where given, count instead of work; each has a key of its own."""
    counted, timed = Effort(5, seed=3), Effort(5, seconds=2.0, seed=3)
    assert isinstance(counted.stop(), MaxWork) and isinstance(timed.stop(), SearchTime)
    assert (counted.total, timed.total) == (5, 2.0)
    assert counted.parts == ("effort", 5, 3, PROOF) and timed.parts == ("seconds", 2.0, 3, PROOF)
    assert counted.to_plain() == {"seed": 3, "effort": 5, "seconds": None}
    assert timed.to_plain() == {"seed": 3, "effort": None, "seconds": 2.0}


def test_proof_beside_the_search() -> None:
    """None without a search, else as much for each effort, more where it is to be proved; and as is asked for."""
    assert [Effort(0).proving, Effort(0.1).proving, Effort(seconds=2).proving] == [0, PROOF, PROOF]
    assert Effort(2, proof=0.5).proof_in_all == 1.0
    assert Effort(seconds=10.0, proof=0.5).proof_in_all == 1.0
    assert (Effort(prove=True).total, Effort(prove=True).to_prove) == (USUAL, TO_PROVE)
    assert Effort(50, proof=2.0).to_prove == 100
    assert Effort(seconds=3.0).to_prove == math.inf
    assert (Effort(seconds=0.0).to_prove, Effort(seconds=0.0).until) == (TO_PROVE, None)


def test_spreads_share_the_work() -> None:
    """Where cloth folded in part is asked for, folded and open cloth are searched too: each gets a third."""
    cloth = {"name": "c", "width": "1 m"}
    part, best = (FabricOffer.model_validate(cloth | {"spread": spread}) for spread in ("part-folded", "best"))
    assert len(part.spreads()) == 3 and Effort(6, sold=part).total == 2
    assert Effort(6, sold=best).total == Effort(6).total == 6


def test_an_interrupt_ends_it() -> None:
    """An interrupt ends a search that has work left; a process of its own has none."""
    interrupt = Interrupted()
    effort = Effort(10, interrupt=interrupt)
    stop = effort.stop()
    assert isinstance(stop, AnyOf)
    stop.follow(WorkMeter())
    assert not stop(1.0)
    interrupt.set()
    assert stop(1.0)
    assert effort.alone.interrupt is None and len(effort.alone.criteria()) == 1
    assert effort == Effort(10)


def test_what_a_command_is_told() -> None:
    """Effort, where told, counts before seconds; where nothing is told, it is as usual; the seed is taken always."""
    usual = Effort(seconds=2.0)
    assert OneSearch(seed=4).effort(usual) == Effort(seconds=2.0, seed=4)
    assert OneSearch(amount=5, workers=2).effort(usual) == Effort(5, workers=2)
    assert OneSearch(seconds=1.0).effort(Effort(7)) == Effort(7, seconds=1.0)
    assert OneSearch(prove=True).effort(Effort()) == Effort(prove=True)
    assert ManySearch(workers=4).effort(Effort()) == Effort(USUAL)
