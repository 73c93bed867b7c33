"""A whole run, small: what is cut, bought and charged, counted once more by other ways."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from datetime import date
from decimal import Decimal
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pypdf
import pytest
import shapely
from pytest import MonkeyPatch

from nesting.cloth.repeat import Repeat
from nesting.errors import LayPlanError, NestingError
from nesting.lays.plan import Lay
from nesting.lays.rolls import RollCut, RollPlan
from nesting.marker.opinion import check
from pieces.errors import PieceError
from pieces.exchange.own.plain import to_plain
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.ask.order.order import parse_order
from reports.draw.kit.files import save
from reports.draw.quote import quote_page
from reports.errors import JobError, PriceError
from reports.printed import printed
from reports.run.files import fixed_files
from reports.run.plain import run_to_plain
from reports.run.plan import RunPlan, plan_run
from reports.run.question import Run, RunOptions
from reports.run.quotes import quotes_of
from reports.run.use import consumption
from reports.run.words import lot_lines, run_parts
from tests.make.model import MODEL
from tests.make.orders import changed, lay, ordered, planned

if TYPE_CHECKING:
    from pathlib import Path

    from reports.money.cost.item import CostPart


YARD = 914.4
LINING = """
[[fabric]]
name = "cream lining"
width = "56 in"
material = "lining"
pieces = ["back", "front"]
price = "6.00 / yd"

[[rib]]"""


@pytest.fixture(scope="module")
def run() -> RunPlan:
    """Eight jackets in two sizes and two colours."""
    return planned()


def test_tickets_give_the_order(run: RunPlan) -> None:
    """Counted from what the tickets print: plies × garments on the marker, by colour and size, is what is ordered."""
    cut: Counter[tuple[str, str]] = Counter()
    for ticket in run_to_plain(run)["tickets"]:
        for colour, plies in ticket["plies"].items():
            for size, garments in ticket["garments"].items():
                cut[colour, size] += plies * garments
    assert cut == {("rust", "S"): 3, ("rust", "L"): 2, ("navy", "S"): 1, ("navy", "L"): 2}


def test_markers_hold_their_garments(run: RunPlan) -> None:
    """Each ticket's marker has passed the check, and holds the pieces of its garments: their area, by shapely."""
    for ticket in run.tickets:
        check(ticket.marker)
        laid = sum(shapely.Polygon(outline).area for _, _, _, outline in ticket.marker.outlines())
        (plan,) = run.lots
        wanted = sum(
            number * sum(shapely.Polygon(piece.unfolded).area * piece.cut for piece in plan.lot.pieces[size])
            for size, number in ticket.garments.items()
        )
        assert laid == pytest.approx(wanted)


def test_no_lay_is_too_long_or_too_high(run: RunPlan) -> None:
    """Table and tool are kept to: 4 m with both ends, six layers, three garments."""
    for ticket in run.tickets:
        assert ticket.length + 20.0 <= 4000.0
        assert sum(ticket.plies.values()) <= 6
        assert sum(ticket.garments.values()) <= 3


def test_cloth_bought_is_cloth_spread(run: RunPlan) -> None:
    """Plies × (marker + 1 cm at both ends), rounded up to 1/4 yd; consumption times garments is the same cloth."""
    (plan,) = run.lots
    for key, cloth in plan.lot.cloths.items():
        spread = sum(t.plies.get(key, 0) * (t.length + 20.0) for t in run.tickets)
        (bought,) = (one for one in run.bought if one.what == cloth.name)
        assert 0 <= bought.purchase.buy - spread < YARD / 4 + 1e-6
        taken = sum(mm * run.cut[key, size] for (own, size), mm in plan.taken().items() if own == key)
        assert taken == pytest.approx(spread)
        assert bought.cost == (Decimal("16.50") * Decimal(round(bought.purchase.buy / YARD * 4)) / 4).quantize(
            Decimal("0.01"), "ROUND_HALF_UP"
        )


def test_consumption_by_hand() -> None:
    """Two plies of 1.02 m with an S of 1 m² and two L of 2 m²: 5 m² share them, 0.204 m for an S, 0.408 m for an L."""
    lays = [Lay((1, 2), {"rust": 2}, 1000.0)]
    taken = consumption(lays, ["S", "L"], {"S": 1e6, "L": 2e6}, 10.0)
    assert taken == pytest.approx({("rust", "S"): 204.0, ("rust", "L"): 408.0})


def test_cost_holds_what_is_bought(run: RunPlan) -> None:
    """The run's cloth, rib and trims cost what the buying list says."""
    parts = run.costing.cost.run.by_part()
    held: dict[CostPart, str] = {"cloth": "shell", "rib": "rib", "trims": "trims"}
    for part, bought in held.items():
        costs: list[Any] = [one.cost for one in run.bought if one.part == bought]
        assert parts[part] == sum(costs)
    assert run.costing.quote.garments == 8


def test_better_than_the_others(run: RunPlan) -> None:
    """The plan costs no more than one garment at a time, nor than markers of one size, at their true lengths."""
    (plan,) = run.lots
    assert plan.plan.cost <= plan.one_size.cost + 1e-6
    assert plan.plan.cost <= plan.one_by_one.cost + 1e-6
    assert plan.plan.bound <= plan.plan.cost


def test_words_and_json(run: RunPlan) -> None:
    """Both faces are whole: the words name every cloth and size, the JSON is JSON."""
    text = printed(*run_parts(run))
    for said in ("rust canvas", "navy canvas", "One garment at a time would take", "To buy: mill agent", "local law"):
        assert said in text
    plain = json.loads(json.dumps(run_to_plain(run)))
    assert sum(one["cut"] for one in plain["garments"]) == 8


def test_what_plies_lose_on_a_pattern_is_said_to_be_left_out(run: RunPlan) -> None:
    """Costs and proof of a lay plan leave out what plies lose on a repeat along the cloth: words and JSON say so."""
    plan = run.lots[0]
    matched: Any = SimpleNamespace(problem=SimpleNamespace(repeat=Repeat(along=300.0)))
    cloths = {key: cloth.model_copy(update={"repeat_along": 300.0}) for key, cloth in plan.lot.cloths.items()}
    matching = dict.fromkeys(plan.markers, matched)
    on_pattern = replace(plan, markers=matching, lot=replace(plan.lot, cloths=cloths))
    across = replace(plan, markers=matching)
    said = ["left out of these costs" in " ".join(lot_lines(run, one)) for one in (plan, across, on_pattern)]
    assert said == [False, False, True]
    plain = run_to_plain(replace(run, lots=(on_pattern, *run.lots[1:]), ribs=()))
    assert plain["lots"][0]["leaves_out_repeats"] is True


def test_comparisons_say_which_way_is_dearer(run: RunPlan) -> None:
    """Plans of 3.00 more, 3.00 less and the same as the one chosen are dearer, cheaper and as dear."""
    (plan,) = run.lots
    for cost, said in ((3.0, "3.00 dearer"), (-3.0, "3.00 cheaper"), (0.0, "as dear")):
        other = replace(plan.plan, cost=plan.plan.cost + cost)
        lines = [line for line in lot_lines(run, replace(plan, one_size=other)) if "Markers of one size" in line]
        assert [f"would be {said}" in line for line in lines] == [True]


def test_the_curve_meets_the_cost_sheet(run: RunPlan) -> None:
    """At the number cut the curve has the cost sheet's figures, and it reaches past that."""
    curve, cost = run.costing.curve, run.costing.cost
    (point,) = (one for one in curve.points if one.garments == cost.garments)
    assert (point.run, point.unit) == (cost.run.total, cost.garment.total)
    assert curve.points[-1].garments > curve.ordered


def test_what_was_ordered_is_billed() -> None:
    """Where lays cost so much that more is cut than ordered, the order is billed; what is over is listed as stock."""
    dear = 'tool = "rotary cutter"\nlay_minutes = 5000\nmarker_minutes = 5000'
    run = planned((r"^# over = 0", "over = 2"), (r'^tool = "rotary cutter"', dear))
    quote, ordered = run.costing.quote, run.garments.ordered
    assert sum(run.cut.values()) > sum(ordered.values())
    billed = {(line.colour, line.size): line.number for line in quote.lines}
    assert billed == {kind: number for kind, number in ordered.items() if number}
    assert quote.garments == sum(ordered.values())
    assert quote.total == sum(line.each * ordered[line.colour, line.size] for line in quote.lines)
    assert quote.over == {kind: n - ordered[kind] for kind, n in run.cut.items() if n > ordered[kind]}
    plain = run_to_plain(run)["quote"]
    assert sum(each["number"] for each in plain["stock"]) == sum(run.cut.values()) - quote.garments
    text = " ".join(printed(*run_parts(run)).split())
    assert f"Billed: {quote.garments} garments" in text and "Over, not billed, kept as stock:" in text


@pytest.mark.parametrize(("minutes", "is_over"), [(5000, True), (60, False)])
def test_more_is_cut_only_where_that_pays(minutes: int, is_over: bool) -> None:
    """3 of S and 2 of L, one more of each allowed: a lay saved is worth its minutes, a garment over all it takes.

    19.00 an hour: of a jacket sewing is 62 minutes, 19.63, zip, labels and thread about 3.50, rib and cloth besides.
    A lay and its marker of an hour each, 38.00, and cutting, are not worth that; of 5000 minutes they are.
    """
    dear = f'tool = "rotary cutter"\nlay_minutes = {minutes}\nmarker_minutes = {minutes}'
    run = planned((r"^navy = .*$", ""), (r"^# over = 0", "over = 1"), (r'^tool = "rotary cutter"', dear))
    assert (sum(run.cut.values()) > 5) is is_over


def test_nothing_over_where_rolls_are_short() -> None:
    """Lays so dear that more would be cut than ordered: where the rolls are short, no more than ordered is."""
    dear = 'tool = "rotary cutter"\nlay_minutes = 5000\nmarker_minutes = 5000'
    rolls = (r"^# rolls = .*$", 'rolls = ["2 yd", "2 yd"]')
    run = planned((r"^navy = .*$", ""), rolls, (r"^# over = 0", "over = 1"), (r'^tool = "rotary cutter"', dear))
    assert run.lots[0].rolls["rust"].missing
    assert run.cut == {("rust", "S"): 3, ("rust", "L"): 2}


def test_plies_without_a_roll_keep_the_run(monkeypatch: MonkeyPatch) -> None:
    """Where a roll is not found for a ply, and it is not proved that there is none, the run stands, and names it."""

    def not_found(plies: list[float], rolls: tuple[float], **_: None) -> RollPlan:
        return RollPlan(tuple(rolls), (RollCut(0, 0, plies[0]),), 1, longest=False, missing=tuple(range(1, len(plies))))

    monkeypatch.setattr("nesting.lays.roll_stock.assign_rolls", not_found)
    run = planned((r'^supplier = "mill agent"', 'supplier = "mill agent"\nrolls = ["20 yd"]'))
    (plan,) = run.lots
    (key,) = plan.rolls
    text = " ".join(printed(*run_parts(run)).split())
    assert f"plies that have a roll: 1 of {len(plan.plies(key))}." in text and "(not proved impossible)" in text
    cloth = run_to_plain(run)["lots"][0]["cloths"][key]
    assert cloth["plies_without_roll"] == [ply + 1 for ply in plan.rolls[key].missing]


def test_rolls_that_are_short_keep_the_run() -> None:
    """Two yards for all of rust: the run is planned, and says by ticket what is missing, and that this is proved."""
    run = planned((r"^# rolls = .*$", 'rolls = ["2 yd"]'))
    (plan,) = run.lots
    rolls, plies = plan.rolls["rust"], plan.plies("rust")
    missing = sum(plies[ply] for ply in rolls.missing)
    assert rolls.impossible and missing >= sum(plies) - 2 * YARD
    cloth = run_to_plain(run)["lots"][0]["cloths"]["rust"]
    assert sum(one["mm"] for one in cloth["short"]) == pytest.approx(missing) and cloth["short_proved"]
    for one in cloth["short"]:
        lay = plan.plan.lays[one["lay"] - 1]
        assert one["plies"] <= lay.plies["rust"]
        assert one["mm"] == pytest.approx(one["plies"] * (lay.length + 20.0))
    text = " ".join(printed(*run_parts(run)).split())
    assert "(proved: these rolls cannot give them)" in text and "Get another roll." in text
    assert f"icket {cloth['short'][0]['lay']}: {cloth['short'][0]['plies']} pl" in text


def test_lining_for_all_colours() -> None:
    """A lining without a colour is cut for all garments the shell is cut for, in lays of its own."""
    run = planned((r"\n\[\[rib\]\]", LINING))
    _, lining = run.lots
    assert list(lining.lot.cloths) == ["cream lining"]
    assert lining.cut() == {("cream lining", "S"): 4, ("cream lining", "L"): 4}
    assert {t.part for t in run.tickets} == {"shell", lining.lot.part}
    assert run.costing.cost.run.by_part()["lining"] > 0


def test_over_is_allowed() -> None:
    """With one over allowed, never fewer than ordered are cut, and at most one more."""
    run = planned((r"^# over = 0", "over = 1"))
    for kind, number in run.garments.ordered.items():
        assert number <= run.cut[kind] <= number + 1


def test_folded_plies() -> None:
    """Folded, a ply has two layers: three folded plies are the six that the cutter takes."""
    run = planned((r'^spread = "face-up".*$', 'spread = "folded"'))
    assert {plan.lot.cloth.spread for plan in run.lots} == {"folded", "face-up"}
    for plan in run.lots:
        if plan.lot.cloth.spread == "folded":
            assert all(sum(lay.plies.values()) <= 3 for lay in plan.plan.lays)


def test_the_day_of_delivery_stands_on_the_quote(run: RunPlan, tmp_path: Path) -> None:
    """A day as TOML has it or in quotes: in words, in JSON and on the page of the quote; what is no day is refused."""
    for day in ("2026-12-18", '"2026-12-18"'):
        assert ordered((r"^# delivery = .*$", f"delivery = {day}")).delivery == date(2026, 12, 18)
    with pytest.raises(JobError, match="write a day as year, month, day"):
        ordered((r"^# delivery = .*$", 'delivery = "soon"'))
    due = replace(run, order=run.order.model_copy(update={"delivery": date(2026, 12, 18)}))
    assert run_to_plain(due)["delivery"] == "2026-12-18" and run_to_plain(run)["delivery"] is None
    assert "To be delivered by 2026-12-18." in list(run_parts(due))
    save(quote_page(replace(run.costing.quote, filled={"delivery": "2026-12-18"})), tmp_path / "quote.pdf")
    assert "2026-12-18" in pypdf.PdfReader(tmp_path / "quote.pdf").pages[0].extract_text()


def test_rolls() -> None:
    """Each ply comes whole from a roll; what is left over is what the roll held less its plies."""
    run = planned((r"^# rolls = .*$", 'rolls = ["6 yd", "4 yd", "3 yd"]'))
    rolls = run.lots[0].rolls["rust"]
    for roll, left in rolls.remnants.items():
        cut = sum(one.length for one in rolls.cuts if one.roll == roll)
        assert left == pytest.approx(rolls.rolls[roll] - cut)
    assert len({cut.ply for cut in rolls.cuts}) == len(run.lots[0].plies("rust"))


def test_clients(tmp_path: Path) -> None:
    """Measured clients, a row each: every garment is drafted to its own measurements; a bad row loses no other."""
    (tmp_path / "clients.csv").write_text(
        "name;quantity;colour;bust (cm);hip (cm);across_shoulder (cm);neck (cm);upper_arm (cm);wrist (cm);"
        "arm_length (cm)\n"
        "A12;1;rust;92,5;98;39;35;29;17;58\n"
        "B07;2;Navy;104;110;41;37;33;18,5;59\n"
        "C03;1;navy;9;98;39;35;29;17;58\n"
        "D04;1;;92,5;98;39;35;29;17;58\n"
        "E05;1;teal;92,5;98;39;35;29;17;58\n",
        encoding="cp1252",
    )
    run = planned(
        (r"^sizes = .*$", 'clients = "clients.csv"'), (r"^\[quantity\].*\nrust = .*\nnavy = .*$", ""), folder=tmp_path
    )
    assert run.cut == {("rust", "A12"): 1, ("navy", "B07"): 2}
    bad, without, unknown = run.garments.left_out
    assert "line 4" in bad and "bust" in bad
    assert without == "clients.csv, line 5 (D04), column 'colour': is empty: write one of rust, navy"
    assert unknown == "clients.csv, line 6 (E05), column 'colour': no cloth is 'teal': write one of rust, navy"
    asked = Run()
    assert asked.code(run) == 0
    assert asked.code(replace(run, order=asked.read(run.order, RunOptions(strict=True)))) == 2
    assert not asked.read(run.order, RunOptions()).strict
    whole, (first, second) = run.costing.quote, quotes_of(run)
    assert (first.file, second.file) == ("quote-A12", "quote-B07")
    assert first.quote.rows()[0][1] == "" and all(row[1] == "" for row in first.quote.rows())
    assert [line.size for line in first.quote.lines] == ["A12"] and second.quote.garments == 2
    assert first.quote.total + second.quote.total == whole.total
    assert not any(path.name.startswith("quote") for path in fixed_files(tmp_path, run.order))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (((r"^rust = \{ S = 3", "rust = { XXXL = 3"),), "unknown size 'XXXL'"),
        (((r'^table = "4 m"', 'table = "60 cm"'),), "longest lay is"),
        (((r"^most_layers = 6", "most_layers = 1"), (r'^spread = "face-up"', 'spread = "folded"')), "cuts no ply"),
        (((r'^colour = "navy"', 'colour = "teal"'),), "navy has no cloth"),
        (((r'canvas"\ncolour = "navy"', 'canvas"\ncolour = "rust"'),), "two [[fabric]] entries"),
        (((r'^width = "60 in"', 'width = "12 in"'),), "size S: 'back S' needs"),
        (((r'^price = "16.50 / yd"\nbreaks = .*$', ""),), "has no price"),
        (((r'^price = "2.40 / piece"\nbreaks = .*$', 'price = "2.40 EUR / piece"'),), "currenc"),
        (((r"^amount = 1 .*$", 'amount = 1\nsizes = ["XXL"]'),), "no size 'XXL'"),
    ],
)  # fmt: skip
def test_what_cannot_be_made_is_said_in_one_line(changes: tuple[Any, ...], said: str) -> None:
    """An order that cannot be made: one line that names what, and what to do."""
    with pytest.raises((JobError, PriceError, PieceError, NestingError, LayPlanError)) as found:
        planned(*changes)
    assert said in str(found.value)
    assert "\n" not in str(found.value)


def test_no_size_is_lost_in_the_reading() -> None:
    """All that is ordered is drafted: sizes in the table's order."""
    order = ordered((r"^rust = \{ S = 3, L = 2 \}", "rust = { L = 2, S = 3, M = 1 }"))
    assert order.quantity["rust"] == {"L": 2, "S": 3, "M": 1}


def test_one_cloth_for_all_colours() -> None:
    """One shell cloth for both colours, one under allowed: each colour is cut between its least and what is ordered."""
    second = r"\[\[fabric\]\]\nname = \"navy canvas\"(\n.+)*"
    run = planned((r'^colour = "rust" .*$', ""), (second, ""), (r"^# under = 0", "under = 1"))
    for kind, number in run.garments.ordered.items():
        assert max(0, number - 1) <= run.cut.get(kind, 0) <= number


def test_imported_pieces_graded(tmp_path: Path) -> None:
    """Pieces out of a file, graded by rules: a size up, the back is as much longer as its rule says."""
    pieces = draft_job(parse_job(MODEL))
    (tmp_path / "pieces.json").write_text(json.dumps(to_plain(pieces) | {"seams": []}), encoding="utf-8")
    hem = next(edge for edge in pieces["back"].edges if edge.name == "hem")
    (tmp_path / "grades.toml").write_text(
        f'sizes = ["M", "L"]\nbase = "M"\n[[edge]]\npiece = "back"\nedge = "{hem.name}"\nout = "10 mm"\n',
        encoding="utf-8",
    )
    text = changed(
        (r"^garment = .*$", 'garment = "imported"\npieces_file = "pieces.json"\ngrade_file = "grades.toml"'),
        (r"^sizes = .*$", ""),
        (r"^\[style\](.*\n)*?\n", ""),
        (r"^rust = .*$", "rust = { M = 2, L = 1 }"),
        (r"^navy = .*$", "navy = { M = 1 }"),
        (r'^opened = "36 in"', 'opened = "60 in"'),
    )
    run = plan_run(parse_order(text, "order.toml", tmp_path), lay, 1.0)
    assert run.cut == {("rust", "M"): 2, ("rust", "L"): 1, ("navy", "M"): 1}
    small, large = (size.pieces["back"] for size in run.garments.sizes)
    assert large.length == pytest.approx(small.length + 10.0)
