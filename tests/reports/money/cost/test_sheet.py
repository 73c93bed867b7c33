"""The cost sheet: what adds up, and who bears what."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as some

from reports.errors import CostError, PriceError
from reports.money.cost.item import CostItem, total
from reports.money.cost.sheet import Charge, cost_run
from reports.money.cost.sources import Expense, MaterialUse, Supply, Work
from reports.money.cost.tariff import Tariff
from reports.money.price import Price, one_currency, to_cents, write_money
from tests.make.studio import QUANTITIES, SIZES, entries, run_sources

if TYPE_CHECKING:
    from hypothesis.strategies import DrawFn

CENT = Decimal("0.01")
money = some.integers(0, 1_000_000).map(lambda cents: Decimal(cents) / 100)
quantities = some.dictionaries(
    some.tuples(some.sampled_from(("rust", "navy")), some.sampled_from(SIZES)), some.integers(0, 60), min_size=1
).filter(lambda made: sum(made.values()) > 0)
charges = some.lists(
    some.builds(
        Charge,
        some.just("charge"),
        some.sampled_from(("overhead", "waste")),
        some.integers(0, 500).map(lambda tenths: Decimal(tenths) / 10),
        some.sampled_from(((), ("sewing", "cutting"))),
    ),
    max_size=3,
)


@some.composite
def sources(draw: DrawFn) -> list[Expense | MaterialUse | Supply | Work]:
    """A cloth, a trim, work with its set-up, and an expense."""
    per_size = {size: draw(money) for size in SIZES}
    rate = Price.parse(f"{draw(money)} / h")
    minutes = Fraction(draw(some.integers(0, 600)), 10)
    step = Fraction(draw(some.integers(1, 50)))
    return [
        MaterialUse("cloth", "cloth", per_size, draw(money)),
        Supply(
            "zip", "trims", {(c, s): Fraction(1) for c in ("rust", "navy") for s in SIZES},
            Tariff(Price.parse(f"{draw(money)} / piece"), step),
        ),
        Work("seams", "sewing", rate, minutes, Fraction(draw(some.integers(0, 90))), Fraction(80)),
        Expense("pattern", draw(money)),
    ]  # fmt: skip


@given(sources(), quantities, charges)
def test_lines_add_up(
    found: list[Expense | MaterialUse | Supply | Work], made: dict[tuple[str, str], int], added: list[Any]
) -> None:
    """On every sheet the total is the sum of the lines, whole cents each, and the parts add up to it."""
    cost = cost_run(found, made, added)
    for sheet in (cost.run, cost.garment, *cost.sizes.values()):
        assert sum(line.amount for line in sheet.lines) == sheet.total == sum(sheet.by_part().values())
        assert all(line.amount == line.amount.quantize(CENT) for line in sheet.lines)


@given(sources(), quantities, charges)
def test_the_mean_garment_is_rounded_once(
    found: list[Expense | MaterialUse | Supply | Work], made: dict[tuple[str, str], int], added: list[Any]
) -> None:
    """One garment costs what the run costs, divided by their number: rounded once, to the nearest cent."""
    cost = cost_run(found, made, added)
    assert cost.garment.total == to_cents(Fraction(cost.run.total) / cost.garments)
    assert sum(each[-1] for each in cost.parts.values()) == cost.garment.total


@given(sources(), quantities, charges)
def test_garments_bear_the_run(
    found: list[Expense | MaterialUse | Supply | Work], made: dict[tuple[str, str], int], added: list[Any]
) -> None:
    """All garments together bear the run, give or take half a cent a line and garment, grown by the charges."""
    cost = cost_run(found, made, added)
    borne = sum(n * cost.sizes[size].total for (_, size), n in made.items() if n)
    grown = 1
    for charge in added:
        grown *= 1 + charge.percent / 100
    allowed = CENT / 2 * (len(cost.run.lines) + 1) * grown * (cost.garments + 1)
    assert abs(borne - cost.run.total) <= allowed


@given(money, quantities)
def test_spread_set_up_times_the_number_is_the_set_up(amount: Decimal, made: dict[tuple[str, str], int]) -> None:
    """What every garment bears of a set-up, times the number of garments, is the set-up, exactly."""
    (item,) = Expense("pattern", amount).items(made)
    each = [item.portion({kind: 1}, made) for kind, number in made.items() if number]
    assert len(set(each)) == 1
    assert each[0] * total(made) == Fraction(amount)


@given(sources(), quantities)
def test_every_cost_is_borne_in_full(
    found: list[Expense | MaterialUse | Supply | Work], made: dict[tuple[str, str], int]
) -> None:
    """The portions of all kinds of garment add up to each cost, exactly."""
    for item in (item for source in found for item in source.items(made)):
        assert sum(item.portion({kind: n}, made) for kind, n in made.items()) == Fraction(item.run)


def test_by_hand() -> None:
    """Two garments, 3 of cloth in S and 5 in M, 10 bought, set-up 4, 10 % overhead: 6.33 and 9.08, the run 15.40."""
    made = {("rust", "S"): 1, ("rust", "M"): 1}
    cloth = MaterialUse("cloth", "cloth", {"S": Decimal(3), "M": Decimal(5)}, Decimal(10))
    cost = cost_run([cloth, Expense("pattern", Decimal(4))], made, [Charge("overhead", "overhead", Decimal(10))])
    assert [cost.sizes[size].by_part()["cloth"] for size in "SM"] == [Decimal("3.75"), Decimal("6.25")]
    assert [cost.sizes[size].total for size in "SM"] == [Decimal("6.33"), Decimal("9.08")]  # 5.75 + .58, 8.25 + .83
    assert cost.run.total == Decimal("15.40")
    assert cost.fixed == Decimal("4.40")


def test_charges_by_hand() -> None:
    """Sewing 20, cloth 30: 50 % overhead on sewing are 10, and 10 % waste on all above, that overhead too, are 6."""
    made = {("rust", "M"): 1}
    sewing = Work("seams", "sewing", Price.parse("20.00 / h"), Fraction(60))
    cloth = MaterialUse("cloth", "cloth", {"M": Decimal(30)}, Decimal(30))
    overhead = Charge("overhead", "overhead", Decimal(50), ("sewing",))
    run = cost_run([sewing, cloth], made, [overhead, Charge("waste", "waste", Decimal(10))]).run
    assert run.by_part() == {"cloth": 30, "sewing": 20, "overhead": 10, "waste": 6}
    assert run.total == Decimal("66.00")


def test_work_at_a_pace() -> None:
    """12 min of work at 80 % are paid for 15, 5.00 at 20 / h; making ready, 24 min, for 30: 10.00 once, and fixed."""
    made = {("rust", "M"): 4}
    work = Work("seams", "sewing", Price.parse("20.00 / h"), Fraction(12), Fraction(24), Fraction(80))
    cost = cost_run([work], made, ())
    assert cost.run.by_part() == {"sewing": Decimal("20.00"), "set-up": Decimal("10.00")}
    assert cost.fixed == Decimal("10.00")
    assert cost.garment.by_part() == {"sewing": Decimal("5.00"), "set-up": Decimal("2.50")}


def test_expenses_once_and_by_number() -> None:
    """A pattern of 90 is 90 for any number; cutting of 20 for ten garments is 8 for four."""
    made = {("rust", "M"): 4}
    cost = cost_run([Expense("pattern", Decimal(90)), Expense("cutting", Decimal(20), "cutting", 10)], made, ())
    assert cost.run.by_part() == {"cutting": 8, "set-up": 90}
    assert cost.fixed == 90


def test_each_size_bears_its_own() -> None:
    """S takes 2 of cloth, M 3, L 5; exactly what they take is bought: each size is charged with that alone."""
    made = {("rust", size): 1 for size in ("S", "M", "L")}
    per_size = {"S": Decimal(2), "M": Decimal(3), "L": Decimal(5)}
    cost = cost_run([MaterialUse("cloth", "cloth", per_size, Decimal(10))], made, ())
    assert {size: sheet.total for size, sheet in cost.sizes.items()} == per_size


def test_only_garments_of_a_colour_bear_its_cloth() -> None:
    """Rust cloth is borne by rust garments alone; a size in both colours has the mean of both, under one name."""
    made = {("rust", "M"): 3, ("navy", "M"): 1, ("navy", "L"): 2}
    per_size = {"M": Decimal(8), "L": Decimal(10)}
    rust = MaterialUse("fleece", "cloth", per_size, Decimal(24), {"M": 1500.0, "L": 1700.0}, ("rust",))
    navy = MaterialUse("fleece", "cloth", per_size, Decimal(56), {"M": 1500.0, "L": 1700.0}, ("navy",))
    cost = cost_run([rust, navy], made, ())
    assert [line.what for line in cost.run.lines] == ["fleece, rust", "fleece, navy"]
    (medium,), (large,) = cost.sizes["M"].lines, cost.sizes["L"].lines
    assert (medium.what, medium.amount, medium.quantity) == ("fleece", Decimal("10.00"), 1500)  # (24 + 16) / 4
    assert (large.amount, large.quantity) == (Decimal("20.00"), 1700)
    assert "28.00 is bought beyond" in large.basis  # 56 - 8 - 2 x 10


def test_larger_sizes_cost_more() -> None:
    """In the studio's order every size costs more than the one below it, as cloth, rib and zip grow."""
    cost = cost_run(run_sources(), QUANTITIES, entries().pricing.charges())
    totals = [cost.sizes[size].total for size in SIZES]
    assert totals == sorted(set(totals))
    assert totals[0] < cost.garment.total < totals[-1]


def test_a_material_without_a_size_is_refused() -> None:
    """A material that has no cost for a size made, or one below 0, is named with the size."""
    for per_size in ({"S": Decimal(3)}, {"S": Decimal(3), "M": Decimal(-1)}):
        with pytest.raises(CostError, match="'cloth' needs a cost of 0 or more for a garment of size M"):
            cost_run([MaterialUse("cloth", "cloth", per_size, Decimal(9))], {("rust", "M"): 1}, ())


def test_no_cost_below_nothing() -> None:
    """A cost below 0 is refused, and so is a run of no garments or of fewer than none."""
    with pytest.raises(CostError, match="'pattern' costs -1: a cost is 0 or more"):
        CostItem("pattern", "set-up", Decimal(-1))
    for made in ({}, {("rust", "M"): 0}, {("rust", "M"): 3, ("rust", "L"): -1}):
        with pytest.raises(CostError, match="one garment or more"):
            cost_run([], made, ())


def test_one_currency() -> None:
    """Prices in two currencies, or in one and in none, are refused; money is rounded away from half a cent."""
    assert one_currency([Price.parse("$5 / m"), Price.parse("$6 / yd")]) == "$"
    with pytest.raises(PriceError, match="'EUR' and in no currency: write all of them in one currency"):
        one_currency([Price.parse("5 EUR / m"), Price.parse("6 / yd")])
    assert [to_cents(Fraction(n, 1000)) for n in (5, -5, 4, -4)] == [CENT, -CENT, 0, 0]
    assert write_money(Decimal("12.5"), "EUR") == "12.50 EUR"
    assert [str(Price.parse(text)) for text in ("$3.6/piece", "0.125 / m", "8 EUR / h")] == [
        "$3.60 / piece",
        "0.125 / m",
        "8.00 EUR / h",
    ]


def test_a_charge_is_taken_of_the_lines_it_names_and_no_other() -> None:
    """Of "canvas", in all its colours, and not of "canvas, heavy", whose name begins so: 10 % of 30 are 3."""
    made = {("rust", "M"): 1, ("navy", "M"): 1}
    uses = [
        MaterialUse("canvas", "cloth", {"M": Decimal(10)}, Decimal(10), colours=("rust",)),
        MaterialUse("canvas", "cloth", {"M": Decimal(20)}, Decimal(20), colours=("navy",)),
        MaterialUse("canvas, heavy", "cloth", {"M": Decimal(50)}, Decimal(100)),
    ]
    cost = cost_run(uses, made, [Charge("handling", "other", Decimal(10), ("canvas",))])
    assert [line.what for line in cost.run.lines][:2] == ["canvas, rust", "canvas, navy"]
    assert cost.run.by_part()["other"] == Decimal("3.00") and cost.garment.by_part()["other"] == Decimal("1.50")
