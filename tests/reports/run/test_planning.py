"""Plans of a run kept from run to run, and planning that is ended early."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nesting.lays.rolls import check_rolls
from reports.keep.plans import KeptPlans
from reports.run.plain import run_to_plain
from reports.run.plan import plan_run
from reports.run.words import CUT_SHORT, run_parts
from tests.make.orders import lay, ordered

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem

ROLLS = (r"^# rolls = .*$", 'rolls = ["6 yd", "5 yd"]')
ZIP = (r'^price = "2.40 / piece"', 'price = "2.45 / piece"')


def _anew(*given: Any, **named: Any) -> Any:
    raise AssertionError("planned anew")


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> KeptPlans:
    """Where the plans of a small run with rolls are kept."""
    folder = tmp_path_factory.mktemp("plans")
    plans = KeptPlans(folder)
    plan_run(ordered(ROLLS), lay, 1.0, kept=plans)
    assert {path.name.split("-")[1] for path in folder.iterdir()} == {"lays", "rolls", "rib"}
    return plans


def test_another_price_of_a_trim_plans_nothing_anew(kept: KeptPlans, monkeypatch: pytest.MonkeyPatch) -> None:
    """Zips at another price: the lays, rolls and rib are those that were kept; the answer is that of a fresh run."""
    fresh = run_to_plain(plan_run(ordered(ROLLS, ZIP), lay, 1.0))
    for name in ("laid.plan_until_stable", "rolled.assign_stock", "ribs.plan_rib"):
        monkeypatch.setattr(f"reports.run.{name}", _anew)
    assert run_to_plain(plan_run(ordered(ROLLS, ZIP), lay, 1.0, kept=kept)) == fresh


@pytest.mark.parametrize(
    "change",
    [
        (r"^rust = .*$", "rust = { S = 3, L = 1 }"),
        (r'^price = "16.50 / yd"', 'price = "16.60 / yd"'),
        (r'^table = "4 m"', 'table = "3.9 m"'),
        (r"^most_layers = 6", "most_layers = 5"),
        (r"^# least_plies = 1", "least_plies = 2"),
        (r'^sleeve = "23 in"', 'sleeve = "22 in"'),
        (r"^# over = 0", "over = 1"),
    ],
)
def test_what_matters_is_planned_anew(
    kept: KeptPlans, change: tuple[str, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Counts, prices of cloth, tables, plies, options: each is another plan."""
    monkeypatch.setattr("reports.run.laid.plan_until_stable", _anew)
    with pytest.raises(AssertionError, match="planned anew"):
        plan_run(ordered(ROLLS, change), lay, 1.0, kept=kept)


def test_an_interrupt_shows_the_plan_as_far_as_it_is(tmp_path: Path) -> None:
    """Told to stop once each size has a marker: the order is given all the same, it is said, and nothing is kept."""
    done: list[Problem] = []

    def lay_few(problems: Sequence[Problem]) -> Sequence[Marker | None]:
        if done:
            return [None] * len(problems)
        done.extend(problems)
        return lay(problems)

    run = plan_run(ordered(ROLLS), lay_few, 1.0, kept=KeptPlans(tmp_path), stop=lambda: bool(done))
    assert run.cut_short and run_to_plain(run)["cut_short"] and CUT_SHORT in list(run_parts(run))
    assert run.cut == run.garments.ordered
    assert all(sum(lay.mix) == 1 for lay in run.lots[0].plan.lays)
    assert not list(tmp_path.iterdir())


def test_an_interrupt_before_each_size_has_a_marker_shows_nothing() -> None:
    """No marker at all: there is no plan to show."""
    with pytest.raises(KeyboardInterrupt):
        plan_run(ordered(), lambda problems: [None] * len(problems), 1.0, stop=lambda: True)


def _interrupted(*given: Any, **named: Any) -> Any:
    raise KeyboardInterrupt


def test_an_interrupt_amid_the_rolls_shows_them_as_far_as_they_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl-C in the exact program of rolls: plain rules have placed plies by then, and what has no roll is named."""
    monkeypatch.setattr("nesting.lays.roll_model.solve_until", _interrupted)
    run = plan_run(ordered((r"^# rolls = .*$", 'rolls = ["6 yd", "2 yd"]')), lay, 1.0, kept=KeptPlans(tmp_path))
    plan = run.lots[0]
    rolls, plies = plan.rolls["rust"], plan.plies("rust")
    assert run.cut_short and CUT_SHORT in list(run_parts(run))
    check_rolls(rolls, plies)
    assert rolls.cuts and len(rolls.cuts) + len(rolls.missing) == len(plies)
    assert "rolls" not in {path.name.split("-")[1] for path in tmp_path.iterdir()}
