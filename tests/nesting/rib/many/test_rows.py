"""Rib of very many garments: near its bound, the same each time, and there after an interrupt."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting.rib import planning
from nesting.rib.band import RibBand, RibStock
from nesting.rib.many.choice import BayProgram, strip_patterns
from nesting.rib.many.rows import ManyRows, bay_depths
from nesting.rib.planning import plan_rib
from nesting.rib.task import RibTask
from pieces.length import inches, mm

if TYPE_CHECKING:
    from pytest import MonkeyPatch

SIDES = (("right side seam", 0.25), ("centre back", 0.5), ("left side seam", 0.75))
TUBE = RibStock("tube", "tube", inches(36))


def run(garments: int, sizes: int) -> list[RibBand]:
    """Bands of a run: of each size two cuffs, a hem band and a neckband for its share of the garments."""
    bands = []
    for size in range(sizes):
        number = garments // sizes
        bands += [
            RibBand(f"cuff {size}", mm(209.55 + 5.3 * size), inches(6), 2 * number),
            RibBand(f"hem band {size}", mm(860.0 + 39.1 * size), inches(6), number, SIDES),
            RibBand(f"neckband {size}", mm(440 + 9.7 * size), inches(3.5), number),
        ]
    return bands


@pytest.mark.parametrize("stock", [TUBE, RibStock("strips", "strips", inches(42), inches(7))])
def test_a_run_comes_near_its_bound(stock: RibStock) -> None:
    """300 garments of two sizes take no more than 2 % over the bound; the plan passed the check."""
    plan = plan_rib(run(300, 2), stock, seam=inches(0.5), effort=2)
    assert (plan.count or plan.length) <= 1.02 * plan.bound


def test_a_run_repeats() -> None:
    """The same bands give the same plan, to the last bit: all work is counted."""
    first = plan_rib(run(80, 2), TUBE, seam=inches(0.5), effort=0.5)
    planning._solved.cache_clear()
    assert plan_rib(run(80, 2), TUBE, seam=inches(0.5), effort=0.5) == first


def test_work_ends() -> None:
    """With hardly any work there is a plan, and less is looked at than with more."""
    task = RibTask.from_bands(run(300, 8), TUBE, 12.7, 101.6)
    works = []
    for most in (1, 3_000_000):
        program = BayProgram(task, bay_depths(task), most)
        program.mix(0.0, np.array([kind.length / task.width for kind in task.kinds]))
        works.append(program.work)
    assert works[0] < works[1] < 2 * 3_000_000
    assert plan_rib(run(300, 8), TUBE, seam=inches(0.5), effort=0.01).bound > 0


def test_columns_of_shallow_bands() -> None:
    """40 bands of 60 x 30 beside 60 of 40 x 20 fill a tube of 100: 1200 mm, where rows would take 1800."""
    bands = [RibBand("wide", mm(60), mm(30), 40), RibBand("low", mm(40), mm(20), 60)]
    plan = plan_rib(bands, RibStock("tube", "tube", mm(100)), seam=mm(0), least_part=mm(100), effort=1)
    assert (plan.length, plan.optimal) == (pytest.approx(1200), True)
    assert max(cut.rise for cut in plan.cuts) > 0


def test_one_band_of_each_length() -> None:
    """Seventy lengths, one band of each: no recursion over them, and within a row or two of the bound."""
    bands = [RibBand(f"band {i}", mm(200 + 5.87 * i), mm(60)) for i in range(70)]
    plan = plan_rib(bands, TUBE, seam=inches(0.5), effort=0.5)
    assert plan.length <= plan.bound + 2 * 60 + 0.01


def test_an_interrupt_leaves_the_best_so_far(monkeypatch: MonkeyPatch) -> None:
    """Interrupted in the search for bays, a plan comes out that passes the check, and it is not kept."""
    offer, calls = BayProgram._offer, [0]

    def interrupted(self: BayProgram, *args: Any) -> bool:
        calls[0] += 1
        if calls[0] == 3:
            raise KeyboardInterrupt
        return offer(self, *args)

    planning._solved.cache_clear()
    monkeypatch.setattr(BayProgram, "_offer", interrupted)
    stopped = plan_rib(run(80, 2), TUBE, seam=inches(0.5), effort=0.5)
    finished = plan_rib(run(80, 2), TUBE, seam=inches(0.5), effort=0.5)
    assert calls[0] > 3
    assert finished.length <= stopped.length
    assert stopped.bound <= stopped.length


def test_an_interrupt_before_all(monkeypatch: MonkeyPatch) -> None:
    """Interrupted before anything is proved, the simplest rows come out."""

    def interrupted(self: ManyRows) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(ManyRows, "look", interrupted)
    plan = plan_rib(run(80, 3), TUBE, seam=inches(0.5), effort=0.25)
    assert 0 < plan.bound <= plan.length


def test_ways_to_fill_a_strip() -> None:
    """Of rows 6 and 3 deep a strip of 9 holds one of each, or three shallow ones; each alone is listed as well."""
    assert set(strip_patterns((6, 3), 9)) == {(6, 3), (3, 3, 3), (6,)}
