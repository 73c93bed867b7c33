"""Answers in plain words, from a plan whose numbers are set by hand."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch
from rich.console import Console

from nesting.rib.plan import RibCut
from pieces.units import Units
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.money.yardage import Increment, purchase
from reports.plan.answers import FabricPlan, PassedOver, Refusal, RibAnswer
from reports.plan.best import best_of
from reports.plan.drafted import measures_table, pieces_table
from reports.plan.words import (
    additions_table,
    answer_lines,
    fabric_table,
    how_cut,
    proof_words,
    refusal_lines,
    rib_table,
    way_words,
)
from tests.make.model import RIB, with_fabrics

if TYPE_CHECKING:
    from rich.table import Table

CLOTH = 'name = "{}"\nwidth = "60 in"\nprice = "${} / yd"'


@pytest.fixture
def plan(monkeypatch: MonkeyPatch) -> Any:
    """Two cloths of 1 1/2 yd and 2 yd, one that will not do, a rib with joins, strips with none.

    Their markers are stand-ins of a given length, and not looked at.
    """
    monkeypatch.setattr("reports.plan.answers.verify_asked", lambda marker, asked: None)
    strips = '[[rib]]\nname = "strips"\nform = "strips"\nwidth = "42 in"\ndepth = "8 in"\nprice = "$5 / strip"\n'
    cloth = (CLOTH.format(*entry) for entry in (("twill [b]", 10), ("denim", 12), ("tape", 1)))
    job = parse_job(with_fabrics(*cloth, rib=RIB + strips))
    eighth = Increment(114.3, "1/8 yd")
    marker = SimpleNamespace(
        length=1300.0, cloth_length=1300.0, density=0.8, problem=SimpleNamespace(lengths=1, repeat=None)
    )
    result: Any = SimpleNamespace(marker=marker, bound=1170.0, bound_held="the area", gap=0.1, stopped_by="time")
    proved: Any = SimpleNamespace(marker=marker, bound=1300.0, bound_held="the area", gap=0.0, stopped_by="proved")
    cuts = tuple(RibCut("hem band", 0, f"row {row + 1}", row, 0.0, 650.0, 177.8, 1) for row in range(2))
    twice = (RibCut("cuff", 0, "strip 1", 0, 0.0, 100.0, 177.8, 2),)
    add = dict(ends=10.0, shrinkage=0.0, margin=0.0)
    unasked: Any = None
    tube: Any = SimpleNamespace(cuts=cuts, optimal=True, seams=())
    strips_plan: Any = SimpleNamespace(cuts=twice, optimal=False, seams=(), count=3)
    ribs = (
        RibAnswer(job.rib[0], tube, purchase(400, eighth, **add), Decimal("9.00")),
        RibAnswer(job.rib[1], strips_plan, None, Decimal("15.00")),
    )
    return SimpleNamespace(
        job=job,
        fabrics=(
            first := FabricPlan(
                job.fabric[0],
                "folded",
                result,
                purchase(1300, eighth, **add),
                Decimal("15"),
                (
                    PassedOver("open"),
                    PassedOver("double-folded", 1310.0, purchase(1310, eighth, **add)),
                    PassedOver("crosswise", reason="it has a nap"),
                ),
                "double-folded",
                asked=unasked,
            ),
            second := FabricPlan(
                job.fabric[1], "open", proved, purchase(1800, eighth, **add), Decimal("24"), asked=unasked
            ),
            Refusal(job.fabric[2], "'back' needs more"),
        ),
        markers=[(1, first), (2, second)],
        ribs=ribs,
        rib_plans=list(enumerate(ribs, 1)),
        alone=(),
    )


def shown(table: Table) -> str:
    """A table as a person sees it on paper."""
    console = Console(width=140, highlight=False)
    with console.capture() as capture:
        console.print(table)
    return capture.get()


def test_answer(plan: Any) -> None:
    """The answer says what to buy, for how much, how laid, how sure, and which is cheapest."""
    assert list(answer_lines(plan)) == [
        "Buy 1 1/2 yd of twill [b] for $15.00: folded lengthwise.",
        "  No marker can be shorter than 46 in (the area), at most 10.0% shorter than this one."
        " In this spread less than 1 3/8 yd is impossible, proved;"
        " less than 1 1/2 yd was not found, and is not ruled out.",
        "  open, single layer: not searched",
        "  both selvedges folded to the middle: 51 5/8 in, to buy 1 1/2 yd; simplest; same amount to buy",
        "  folded crosswise: it has a nap",
        "Buy 2 yd of denim for $24.00: open, single layer.",
        "  No shorter marker exists (the area).",
        "Cheapest cloth: twill [b], $9.00 less than denim.",
        "Buy 1/2 yd of tube rib for 9.00: the least possible, proved; hem band joined once.",
        "Buy 3 strips of strips for $15.00: the least found; cuff joined twice.",
        "tape will not do: 'back' needs more.",
    ]


def test_the_purchase_follows_from_the_length(plan: Any) -> None:
    """44.14 in and 20 mm of ends are within 45 in: the length is told so finely that what is shown of both is, too."""
    cloth = plan.fabrics[0]
    for length, told in ((1121.2, "44 3/16 in, to buy 1 1/4 yd"), (1123.3, "44 1/4 in, to buy 1 3/8 yd")):
        bought = purchase(length, Increment(114.3, "1/8 yd"), ends=10.0, shrinkage=0.0, margin=0.0)
        way = PassedOver("part-folded", length, bought)
        assert way_words(cloth, way, Units.INCHES).endswith(told)


def test_refusals(plan: Any) -> None:
    """Each offer that will not do is told with its reason."""
    assert list(refusal_lines(plan)) == ["tape will not do: 'back' needs more."]


def test_cheapest_needs_one_currency(plan: Any) -> None:
    """Prices in two currencies are not compared."""
    first, second, _ = plan.fabrics
    other = replace(first, offer=first.offer.model_copy(update={"price": replace(first.offer.price, currency="EUR")}))
    plan.markers = [(1, other), (2, second)]
    assert not [line for line in answer_lines(plan) if line.startswith("Cheapest cloth")]


def test_a_tie(plan: Any) -> None:
    """Cloths that cost the same are named together, with what both save against the next."""
    first, second, _ = plan.fabrics
    same = replace(second, cost=first.cost)
    for cloths, saving in (([first, same], ""), ([first, second, same], ", $9.00 less than denim")):
        plan.markers = list(enumerate(cloths, 1))
        (best, _) = best_of(plan)
        assert (best.number, best.by, best.tied) == (1, "cost", ((len(cloths), same),))
        assert (best.against, best.saved) == ((second, Decimal(9)) if saving else (None, None))
        assert f"Cheapest cloth: twill [b] or denim, which cost the same{saving}." in list(answer_lines(plan))
    plan.markers = [(1, replace(first, cost=None)), (2, replace(first, cost=None))]
    (line,) = [line for line in answer_lines(plan) if "cloth to buy" in line]
    assert line.startswith("Least cloth to buy: twill [b] or twill [b] (the same amount); some prices")


def test_unpriced(plan: Any) -> None:
    """Where a price is missing, that of which least is bought is named, in the words of the one that decides it."""
    first, second, _ = plan.fabrics
    plan.markers = [(1, replace(first, cost=None)), (2, second)]
    (best, _) = best_of(plan)
    assert (best.number, best.by, best.saved) == (1, "quantity", None)
    said = [line for line in answer_lines(plan) if "cloth to buy" in line]
    assert said == ["Least cloth to buy: twill [b]; some prices are missing, or in other currencies."]


def test_joins_of_each_copy(plan: Any) -> None:
    """Where both cuffs are joined, each is named."""
    cut = plan.ribs[1].plan.cuts[0]
    plan.ribs[1].plan.cuts = (cut, replace(cut, copy=1, joins=1))
    assert how_cut(plan.ribs[1].plan) == "the least found; cuff 1 joined twice, cuff 2 joined once"


def test_one_strip(plan: Any) -> None:
    """One strip is one strip."""
    plan.ribs[1].plan.count = 1
    assert plan.ribs[1].text == "1 strip"


def test_fabric_table(plan: Any) -> None:
    """Every cloth has a line with its numbers; names stand as they were written, whatever signs they hold."""
    lines = shown(fabric_table(plan)).splitlines()
    assert lines[2].split("  ")[0] == "twill [b]"
    assert " ".join(lines[2].split()) == "twill [b] 60 in folded 51 1/4 in 1 1/2 yd $15.00 80.0% 46 in"
    assert "will not do" in lines[4]


def test_additions_table(plan: Any) -> None:
    """Every step from marker to purchase is on its own line."""
    lines = [" ".join(line.split()) for line in shown(additions_table(plan)).splitlines()]
    assert lines[2:6] == [
        "twill [b] marker 51 1/4 in",
        "end allowance, both ends 7/8 in",
        "rounded up to whole steps of 1/8 yd 1 7/8 in",
        "to buy 1 1/2 yd",
    ]


def test_rib_table(plan: Any) -> None:
    """Every part of a band says where it is cut, how long and deep, and that it is a part."""
    lines = [" ".join(line.split()) for line in shown(rib_table(plan)).splitlines()]
    assert lines[2:4] == [
        "tube rib hem band (part, to be joined) row 1 25 5/8 in 7 in",
        "hem band (part, to be joined) row 2 25 5/8 in 7 in",
    ]


@pytest.mark.parametrize(("units", "size"), [(Units.INCHES, "28 in"), (Units.METRIC, "71 cm")])
def test_measures(plan: Any, units: Units, size: str) -> None:
    """Measures are written in the job's units; a body of 30 in with 3 in of rib is cut 28 in long (common practice)."""
    table = shown(measures_table(draft_job(plan.job), units))
    assert f"body cut length {size}" in " ".join(table.split())


def test_pieces(plan: Any) -> None:
    """Pieces say how often they are cut, from what, and how large; a pair says left and right."""
    lines = [" ".join(line.split()) for line in shown(pieces_table(draft_job(plan.job), Units.INCHES)).splitlines()]
    assert "back 1 on fold shell 28 in 27 1/2 in" in lines
    assert "sleeve 2 (1 left, 1 right) shell 20 in 24 in" in lines  # as common practice has it, no source
    assert "cuff 2 rib 7 in 9 1/2 in" in lines


def test_a_proved_marker_is_as_long_as_any_must_be(plan: Any) -> None:
    """Two yards proved the shortest are shown as the least, 72 in: a bound less by what the check lets pass, 71 7/8."""
    found = replace_of(plan.fabrics[0].result, bound=1828.77, gap=1.6e-5)
    open_yet, proved = (
        replace(plan.fabrics[0], result=replace_of(found, stopped_by=by)) for by in ("iterations", "proved")
    )
    assert (open_yet.at_least, proved.at_least) == (1828.77, 1828.8)
    both: Any = SimpleNamespace(job=plan.job, fabrics=(open_yet, proved))
    console = Console(width=200)
    with console.capture() as said:
        console.print(fabric_table(both))
    rows = [line for line in said.get().splitlines() if "twill" in line]
    assert [row.split("%")[-1].strip() for row in rows] == ["71 7/8 in", "72 in"]


def test_the_shortest_to_what_a_tape_shows(plan: Any) -> None:
    """A marker of 1828.8 mm: 1.2 mm above its bound it is the shortest to within 1/16 in, 2.1 mm above it is not."""
    near, far = (
        replace(plan.fabrics[0], result=replace_of(plan.fabrics[0].result, bound=1828.8 - off, gap=0.001))
        for off in (1.2, 2.1)
    )
    assert near.is_shortest_within == pytest.approx(1.2) and far.is_shortest_within is None
    assert "this one is the shortest to within 1/16 in, proved." in proof_words(near, Units.INCHES)
    assert "this one is the shortest to within 2 mm, proved." in proof_words(near, Units.METRIC)
    assert "at most 0.1% shorter than this one." in proof_words(far, Units.INCHES)


def test_a_price_break_proves_nothing_of_the_cloth_needed(plan: Any) -> None:
    """18.5 yd need 19, 17.5 need 18; from 20 yd on a lower price makes 20 cost less than either.

    By hand: 18 × 12 = 216, 19 × 12 = 228, 20 × 10 = 200. No layout costs less; one that needs less is not excluded.
    """
    (_, twill), *_ = plan.markers
    breaks = 'sold_by = "1 yd"\nend_allowance = "0 in"\nbreaks = [{ at_least = "20 yd", price = "$10 / yd" }]'
    offer = parse_job(with_fabrics(f"{CLOTH.format('twill', 12)}\n{breaks}")).fabric[0]
    found = replace_of(twill.result, bound=17.5 * 914.4, gap=0.05, stopped_by="time")
    found.marker.length = 18.5 * 914.4
    bought = offer.purchase(18.5 * 914.4)
    fabric = replace(twill, offer=offer, result=found, purchase=bought, cost=offer.cost(bought.buy))
    assert (bought.text, fabric.cost, fabric.buys_least, fabric.costs_least) == ("20 yd", 200, False, True)
    told = proof_words(fabric, Units.INCHES)
    assert told.endswith("less than 19 yd was not found, and is not ruled out. No layout costs less: proved.")
    proved = replace(fabric, result=replace_of(found, bound=18.2 * 914.4))
    proved.result.marker.length = 18.5 * 914.4
    told = proof_words(proved, Units.INCHES)
    assert told.endswith("no layout in this spread needs less than 19 yd, or costs less: proved.")


def replace_of(result: Any, **changes: float | str) -> Any:
    """A stand-in of a result on a marker of 2 yd, with something changed."""
    marker = SimpleNamespace(length=1828.8, cloth_length=1828.8, density=1.0, problem=result.marker.problem)
    return SimpleNamespace(**{**vars(result), "marker": marker, **changes})
