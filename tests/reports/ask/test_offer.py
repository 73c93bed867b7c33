"""Cloth as it is sold: weight, price by weight, breaks, shrinkage both ways, several fabrics, patterns, spreads."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import numpy as np
import pytest
import shapely

from reports.ask.job import parse_job
from reports.ask.offer import ALL_SPREADS, FabricOffer
from reports.errors import JobError, PriceError
from reports.money.weight import Weight
from reports.plan.effort import Effort
from reports.plan.plain import plan_to_plain
from reports.plan.plan import Plan, plan_job
from reports.plan.words import answer_lines
from tests.make.model import with_fabrics

YARD = 914.4


TUBE = 'spread = "tube"'


def cloth(*lines: str, name: str = "cloth", width: str = "60 in") -> str:
    """What stands under a cloth's heading."""
    key = "opened" if TUBE in lines else "width"
    return "\n".join([f'name = "{name}"', f'{key} = "{width}"', *lines, ""])


def planned(*entries: Any, effort: float = 0) -> Plan:
    """The plan of the model job on these cloths, each of a name of its own."""
    named = [entry.replace('name = "cloth"', f'name = "cloth {i}"') for i, entry in enumerate(entries)]
    return plan_job(parse_job(with_fabrics(*named)), Effort(effort, proof=0), rib=False)


def offer(*lines: str, **options: Any) -> FabricOffer:
    """One cloth, read from a job."""
    return parse_job(with_fabrics(cloth(*lines, **options))).fabric[0]


@pytest.mark.parametrize(
    ("text", "gsm"),
    [
        ("240 g/m2", 240.0),
        ("180 gsm", 180.0),
        ("150g/m²", 150.0),
        # 1 oz/yd2 = 28.349523125 / 0.83612736 g/m2 exactly, so 7 oz are 237.34.
        ("7 oz/yd2", 7 * 28.349523125 / 0.83612736),
    ],
)
def test_weights_are_read(text: str, gsm: float) -> None:
    """Weights as shops write them, against the exact yard and ounce."""
    assert Weight.parse(text).gsm == pytest.approx(gsm, rel=1e-12)


@pytest.mark.parametrize(
    "text", ["", "240", "240 g", "7 oz", "0 g/m2", "99999 g/m2", "-5 g/m2", "240 g/yd2", 240, None]
)
def test_weights_that_are_none(text: str) -> None:
    """What is no weight is refused in one line that shows how to write one."""
    with pytest.raises(PriceError, match="weight"):
        Weight.parse(text)


def test_weight_of_a_length() -> None:
    """180 g/m2 at 1.75 m wide: 315 g a metre, 288.04 g a yard (fabric tables R5; counted there too)."""
    weight = Weight.parse("180 g/m2")
    assert weight.kilograms(1000, 1750) == pytest.approx(0.315, abs=1e-9)
    assert weight.kilograms(YARD, 1750) == pytest.approx(0.28804, abs=5e-6)


def test_a_linear_yard_of_seven_ounces() -> None:
    """7 oz a linear yard 68 in wide is 125.65 g/m2 (undershirt maker's page, R5): such cloth weighs 7 oz a yard."""
    kilograms = Weight.parse("125.65 g/m2").kilograms(YARD, 68 * 25.4)
    assert kilograms / 0.028349523125 == pytest.approx(7, abs=5e-4)


def test_price_by_weight() -> None:
    """2 yd of 60 in cloth at 200 g/m2 weigh 2 x 0.9144 x 1.524 x 0.2 = 0.5574 kg, at 30 / kg 16.72."""
    kilo = offer('price = "30 / kg"', 'weight = "200 g/m2"')
    assert kilo.kilograms(2 * YARD) == pytest.approx(0.557418, abs=1e-6)
    assert kilo.cost(2 * YARD) == Decimal("16.72")


def test_price_breaks() -> None:
    """From 10 yd on each yard costs less: 9 at 14.00, 10 and more at 12.00, by hand."""
    broken = offer('price = "14.00 / yd"', 'breaks = [{ at_least = "10 yd", price = "12.00 / yd" }]')
    assert [broken.cost(n * YARD) for n in (9, 10, 11)] == [Decimal("126.00"), Decimal("120.00"), Decimal("132.00")]


def test_least_length_sold() -> None:
    """Half a metre asked for where a metre is the least sold: a metre, and the line says so."""
    bought = offer('sold_by = "0.1 m"', 'minimum = "1 m"', 'end_allowance = "0 cm"').purchase(500.0)
    assert bought.buy == 1000.0
    assert next(a.what for a in bought.additions) == "up to the least length sold"
    assert sum(a.mm for a in bought.additions) + bought.need == pytest.approx(bought.buy)


def test_shrinkage_before_cutting() -> None:
    """Finished 100 at 5 % needs 100 / 0.95 = 105.263 (textbook formula; ISO 5077 measures the percent), not 105."""
    washed = offer("shrinkage = 5", "shrinkage_across = 4", 'end_allowance = "0 in"', 'selvedge = "1/2 in"')
    need = washed.purchase(1000.0)
    assert need.need + need.additions[0].mm == pytest.approx(1052.632, abs=1e-3)
    assert washed.fabric().width == pytest.approx(60 * 25.4 * 0.96)


def test_shrinkage_after_cutting() -> None:
    """Washed after cutting, pieces are cut larger by 1/0.95 along and 1/0.96 across, and no length is added."""
    after = offer("shrinkage = 5", "shrinkage_across = 4", 'washed = "after"', 'end_allowance = "0 in"')
    plain, larger = (
        planned(cloth(*lines)) for lines in ((), ("shrinkage = 5", "shrinkage_across = 4", 'washed = "after"'))
    )
    for one, other in zip(
        plain.fabrics[0].result.marker.problem.items, larger.fabrics[0].result.marker.problem.items, strict=True
    ):
        dry, cut = np.ptp(one.variants[0].outline, axis=0), np.ptp(other.variants[0].outline, axis=0)
        assert cut / dry == pytest.approx([1 / 0.95, 1 / 0.96])
    assert not [a for a in after.purchase(1000.0).additions if "shrinkage" in a.what]
    assert after.fabric().width == 60 * 25.4


def test_several_fabrics_in_one_garment() -> None:
    """Sleeves of another cloth, and a lining of back and fronts: each piece is cut of what it should be."""
    plan = planned(
        cloth(name="body"),
        cloth('pieces = ["sleeve"]', name="contrast"),
        cloth('material = "lining"', 'pieces = ["back", "front"]', name="lining"),
    )
    names = [{item.piece.name for item in fabric.result.marker.problem.items} for fabric in plan.fabrics]
    assert names[1:] == [{"sleeve"}, {"back", "front"}]
    assert names[0] == {piece.name for piece in plan.pieces.of("shell")} - {"sleeve"}
    words = "\n".join(answer_lines(plan))
    assert "of contrast for shell (sleeve)" in words and "of lining for lining (back, front)" in words


def test_stripes_cost_cloth_and_the_answer_says_how_much() -> None:
    """On a 6 in repeat the plain length is known, the purchase holds a repeat, the usual allowance is named."""
    (fabric,) = planned(cloth('repeat_along = "6 in"', 'repeat_across = "4 in"'), effort=0).fabrics
    assert fabric.plain is not None and fabric.result.marker.problem.repeat
    assert "one repeat, to begin on the pattern" in [a.what for a in fabric.purchase.additions]
    matched = {item.piece.name for item in fabric.result.marker.problem.items if item.piece.match}
    assert fabric.usual_extra == pytest.approx(len(matched) * 6 * 25.4)


def test_a_plaid_allowance_from_a_published_example() -> None:
    """Three larger pieces at a 6 in repeat: 18 in more (sewing blog of 23 June 2011, T4); the jacket has three."""
    (fabric,) = planned(cloth('repeat_along = "6 in"')).fabrics
    assert fabric.usual_extra == pytest.approx(18 * 25.4)


def test_folded_in_part_at_a_depth_that_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """Left without a depth, one is found at which one piece or two just fit; the words say how deep, and what holds.

    The spreads that it contains are left aside here.
    """
    monkeypatch.setattr("reports.ask.offer.CONTAINED", {})
    plan = planned(cloth('spread = "part-folded"'), effort=0)
    (fabric,) = plan.fabrics
    shell = plan.pieces.of("shell")
    double = [np.ptp(piece.cut_line[:, 1]) for piece in shell]
    single = [np.ptp(piece.unfolded[:, 1]) for piece in shell]
    assert fabric.depth is not None
    folded, rest = fabric.depth, fabric.offer.width - 2 * fabric.depth
    filled = [(folded, one, other) for one in double for other in (0.0, *double)]
    filled += [(rest, one, other) for one in single for other in (0.0, *single)]
    assert min(abs(room - one - other) for room, one, other in filled) < 0.01
    assert any("can be shorter than" in line and " at any fold depth (" in line for line in answer_lines(plan))
    assert plan_to_plain(plan)["fabrics"][0]["proof"]["fold_depths"] == "any"
    assert any("folded over in part" in line and "deep" in line for line in answer_lines(plan))


def test_a_depth_that_is_given_is_said_with_the_proof() -> None:
    """Of a depth that the job gives, words and data claim no more than of that depth."""
    plan = planned(cloth('spread = "part-folded"', 'fold_depth = "14 in"'), effort=0)
    assert any(" at this fold depth (" in line for line in answer_lines(plan))
    assert plan_to_plain(plan)["fabrics"][0]["proof"]["fold_depths"] == "this"


def test_two_jackets_in_a_stack() -> None:
    """Face to face, two garments are cut from one marker's places; twice its length of cloth is bought."""
    entry = cloth('spread = "face-to-face"', 'sold_by = "1 in"')
    job = with_fabrics(entry).replace('units = "in"', 'units = "in"\ngarments = 2', 1)
    plan = plan_job(parse_job(job), Effort(0, proof=0), rib=False)
    (fabric,) = plan.fabrics
    marker = fabric.result.marker
    assert marker.problem.lengths == 2
    assert fabric.purchase.need == pytest.approx(2 * marker.length)


def test_best_names_the_simplest_that_will_do() -> None:
    """Of the spreads within 2 % of the shortest, or of which no more is bought, the simplest is named."""
    (fabric,) = planned(cloth('spread = "best"'), effort=0.05).fabrics
    length, buy = fabric.result.marker.length, fabric.purchase.buy
    good = {p.spread for p in fabric.passed_over if p.length and (p.length <= length * 1.02 or p.purchase.buy <= buy)}
    assert fabric.simplest == next(s for s in ALL_SPREADS if s in {*good, fabric.spread})


def test_no_spread_needs_less_than_open() -> None:
    """Without a gap a folded layout unfolds to an open one: by their bounds, none of the others can need less."""
    plan = planned(cloth('spread = "best"', 'gap = "0 in"'), cloth('spread = "fold-then-open"'), effort=0.05)
    best, stretched = plan.fabrics
    assert min(p.length for p in best.passed_over if p.length) >= best.result.marker.length - 1e-6
    assert stretched.result.marker.length >= best.result.marker.length - 1e-6
    assert [line for line in answer_lines(plan) if "folded lengthwise, then opened out" in line]


def test_faults_are_left_out() -> None:
    """A stain in the middle of open cloth: no cut line touches it, by shapely; through a fold it lies on the fold."""
    lines = ('faults = [["10 in", "28 in", "2 in", "4 in"]]', 'selvedge = "1/2 in"')
    opened, folded = planned(cloth('spread = "open"', *lines), cloth(*lines), effort=0.02).fabrics
    for fabric, low, high in ((opened, 28, 32), (folded, 0, 2)):
        stain = shapely.box(10 * 25.4, low * 25.4, 12 * 25.4, high * 25.4)
        for *_, outline in fabric.result.marker.outlines():
            assert shapely.Polygon(outline).intersection(stain).area < 1.0


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (('faults = [["10 in", "2 in"]]',), "a fault needs four lengths"),
        (("shrinkage = -1",), "0 or more"),
        (("shrinkage_across = 31",), "30 or less"),
        (('repeat_along = "4 m"',), "3 m long"),
        (('repeat_across = "70 in"',), "as wide as the cloth"),
        (('fold_depth = "10 in"',), 'goes only with spread = "part-folded"'),
        (('price = "5 / furlong"',), "cannot read the price"),
        (('price = "5 / kg"',), "needs the weight of the cloth"),
        (('weight = "heavy"',), "cannot read the weight"),
        (('breaks = [{ at_least = "2 yd", price = "3 / yd" }]',), "give the price of short lengths"),
        (('price = "5 EUR / yd"', 'breaks = [{ at_least = "2 yd", price = "3 USD / yd" }]'), "one currency"),
        (("tilt = 40",), "15 or less"),
        (("plies = 1",), "2 or more"),
        (('nap = "sideways"',), "nap"),
    ],
)
def test_mistakes_are_said_in_one_line(lines: tuple[Any, ...], said: str) -> None:
    """Each slip is one line that names the entry and what to write."""
    with pytest.raises(JobError, match=r"\[\[fabric\]\]") as error:
        offer(*lines)
    assert said in str(error.value) and "\n" not in str(error.value)


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        (('spread = "part-folded"', 'fold_depth = "31 in"'), "needs a fold_depth of more than"),
        (('spread = "crosswise"', "nap = true"), "would run the other way"),
        (('pieces = ["hood"]',), "no piece 'hood'"),
        (('faults = [["10 in", "70 in", "2 in", "4 in"]]',), "cut-out 1 reaches"),
        ((TUBE, 'faults = [["10 in", "5 in", "2 in", "4 in"]]'), "faults can be avoided only on cloth laid"),
        (('material = "lining"',), "name the pieces to cut"),
    ],
)
def test_cloth_that_will_not_do(lines: tuple[Any, ...], said: str) -> None:
    """What only shows when pieces meet cloth is one line as well."""
    with pytest.raises(Exception, match=said) as error:
        planned(cloth(*lines))
    assert type(error.value).__module__.split(".")[0] in ("nesting", "reports") and "\n" not in str(error.value)


def test_more_where_it_costs_less() -> None:
    """19 yd at 10 are 190; 20 yd at 9, the price from 20 yd on, are 180: 20 yd are bought, and the line says why."""
    lines = ('sold_by = "1 yd"', 'price = "10 / yd"', 'breaks = [{ at_least = "20 yd", price = "9 / yd" }]')
    offer = parse_job(with_fabrics(cloth(*lines))).fabric[0]
    bought = offer.purchase(18.5 * 914.4)
    assert (bought.text, offer.cost(bought.buy)) == ("20 yd", Decimal("180.00"))
    assert bought.additions[-1].what == "more, as it costs less at the lower price"
    assert sum(a.mm for a in bought.additions) + bought.need == pytest.approx(bought.buy)
    assert offer.purchase(10.5 * 914.4).text == "11 yd"


def test_grain_of_single_pieces() -> None:
    """A strip of 100 × 10 cm on cloth of 110 cm: 100 cm along the grain, 10 cm where it may lie across; not with a nap.

    A name that is not cut of the cloth, and a piece on the fold that is to lie across, are refused in one line.
    """
    size = 'length = "100 cm"\nwidth = "10 cm"\nseam = "0 cm"\n'
    shape = f'units = "cm"\n[[shape]]\nname = "belt"\nkind = "rectangle"\n{size}'
    cloth = '[[fabric]]\nname = "canvas"\nwidth = "110 cm"\nspread = "open"\nend_allowance = "0 cm"\n'

    def laid(*lines: str) -> Plan:
        return plan_job(parse_job("\n".join([shape + cloth, *lines, ""])), Effort(0, proof=0))

    def length(*lines: str) -> float:
        (_, found), *_ = laid(*lines).markers
        return found.result.marker.length

    across = 'lies = { belt = "cross" }'
    assert (length(), length(across), length(across, "nap = true")) == (1000, 100, 1000)
    assert any("so lies changes nothing" in line for line in laid(across, "nap = true").remarks)
    with pytest.raises(JobError, match="lies: no piece 'collar' is cut of this cloth: choose belt"):
        laid('lies = { collar = "cross" }')
    with pytest.raises(JobError, match="lies: 'belt' is cut on a fold and lies straight along it"):
        plan_job(parse_job(f"{shape}on_fold = true\n{cloth}{across}\n"), Effort(0, proof=0))
    with pytest.raises(JobError, match='name each piece with one of "straight", "cross", "free"'):
        laid('lies = { belt = "bias" }')
