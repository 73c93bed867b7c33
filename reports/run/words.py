"""A run in words: its lays, what to buy, what each size takes, and what it costs."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from pieces.units import format_bound, format_need, percent_need, percent_reached
from reports.cautions import LAW, cautions
from reports.money.cost.words import billed_lines, curve_lines, price_lines, sheet_lines, sheet_table, sizes_tables
from reports.money.examples import example_line
from reports.money.lengths import write_left, write_length, write_need
from reports.money.price import price_words, to_cents, write_money
from reports.plan.words import how_cut
from reports.printed import cells_table, fitted_tables
from reports.run.buying import by_supplier
from reports.run.given import given_lines
from reports.run.rib_tickets import bands_by_ticket, ticket_lines
from reports.run.rolls_left import rolls_left
from reports.run.tickets import count_plies
from reports.stock.on_hand import on_hand_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.lays.rolls import RollPlan
    from pieces.units import Units
    from reports.ask.order.order import RunFabric
    from reports.run.lot_plan import LotPlan
    from reports.run.plan import RunPlan
    from reports.run.preferred import Preferred

MOST_APART = 3
"""Colours of a lot whose plies have a column each; of more they share one."""

AS_IF_BOUGHT = "What you have is in the cost all the same, as if it were bought."

AS_DEAR = "as dear"

ALIKE = 0.5
"""Millimetres that plans may differ by and take as much cloth."""

CUT_SHORT = (
    "Interrupted: this plan is as far as it was. It gives the order, and its markers passed the check, but more"
    " planning may save cloth and work. Run the same command again to go on: markers that were laid are kept."
)


def run_parts(run: RunPlan) -> Iterator[Table | str]:
    """All that the command prints, in order."""
    units = run.order.written_in
    yield from order_tables(run)
    if run.order.delivery:
        yield f"To be delivered by {run.order.delivery.isoformat()}."
    if run.order.delivery and run.order.delivery < date.today():
        yield "note: this day is past: correct 'delivery', which stands on the quote"
    if run.cut_short:
        yield CUT_SHORT
    yield from (f"note: {note}" for note in run.notes)
    yield from (f"left out: {line}" for line in run.garments.left_out)
    for plan in run.lots:
        yield lays_table(run, plan)
        yield from lot_lines(run, plan)
    yield from left_lines(run)
    yield from use_tables(run)
    for supplier in by_supplier(run.to_buy):
        yield buying_table(run, supplier)
    if not run.to_buy:
        yield "Nothing to buy."
    yield from there_lines(run)
    if run.trims:
        yield trims_table(run)
        yield NOT_COSTED
    for of in run.ribs:
        yield f"Rib: {of.rib.name}: {how_cut(of.plan)}."
        yield from (f"  {line}." for line in ticket_lines(bands_by_ticket(of, run.each, run.order.written_in)))
    yield sheet_table(run.costing.cost.garment, units, run.costing.rule)
    yield from sheet_lines(run.costing.cost.garment)
    yield from sizes_tables(run.costing.cost, run.costing.rule, _called(run))
    if run.costing.quote.examples:
        yield example_line(run.costing.quote.examples)
    yield from price_lines(run.costing.cost, run.costing.quote)
    yield from billed_lines(run.costing.quote)
    yield from curve_lines(run.costing.curve, run.costing.rule.currency, units)
    yield from cautions(run.order.cutting.tool)
    yield LAW


def there_lines(run: RunPlan) -> list[str]:
    """What there is already: rolls of the order, and what the ledger has where it was asked."""
    found = [*given_lines(run), *on_hand_lines(run.on_hand or (), run.order.written_in)]
    return [*found, AS_IF_BOUGHT] if run.rest != run.bought else found


def order_tables(run: RunPlan) -> Iterator[Table]:
    """Garments cut, by colour and size; what was ordered in brackets where that differs."""
    sizes = [size.name for size in run.garments.sizes]
    rows = [("colour", *sizes, "all")]
    for colour in run.garments.colours:
        numbers = [(run.cut.get((colour, size), 0), run.garments.ordered[colour, size]) for size in sizes]
        cells = [f"{cut}" if cut == ordered else f"{cut} ({ordered} ordered)" for cut, ordered in numbers]
        rows.append((colour, *cells, str(sum(cut for cut, _ in numbers))))
    yield from fitted_tables("Garments", rows, turned=_called(run))


def _called(run: RunPlan) -> str:
    """What heads a column of sizes: those of clients are the clients."""
    return "size" if run.order.clients is None else "client"


def lays_table(run: RunPlan, plan: LotPlan) -> Table:
    """The lays of a lot, with the numbers of their tickets."""
    units, keys = run.order.written_in, list(plan.lot.cloths)
    apart = len(keys) <= MOST_APART
    rows = [("ticket", "garments on the marker", *(keys if apart else ["plies"]), "marker", "used")]
    for ticket in run.tickets:
        if ticket.part == plan.lot.part:
            mix = ", ".join(f"{n} × {size}" if n > 1 else size for size, n in ticket.garments.items())
            plies = [count_plies(ticket.plies[key]) if ticket.plies.get(key) else "" for key in keys]
            if not apart:
                plies = [", ".join(f"{n} × {key}" for key, n in ticket.plies.items())]
            laid = format_need(ticket.marker.length, units), percent_reached(ticket.marker.density)
            rows.append((str(ticket.number), mix, *plies, *laid))
    table = cells_table(f"Lays: {plan.lot.part}", rows, left=2)
    for at, column in enumerate(table.columns):
        column.no_wrap = at not in (1, *(() if apart else (2,)))
    return table


def lot_lines(run: RunPlan, plan: LotPlan) -> Iterator[str]:
    """How good a lay plan is, and what it saves."""
    units, currency, chosen = run.order.written_in, run.costing.rule.currency, plan.plan
    cloth = sum(chosen.cloth(key, plan.costs.end_loss) for key in plan.lot.cloths)
    proof = (
        f"no plan of the {_some(chosen.mixes, 'mix', 'mixes')} that table and tool allow costs less: proved"
        if chosen.optimal and plan.stable
        else f"no plan of the {_some(chosen.mixes, 'mix', 'mixes')} laid costs less: proved"
        if chosen.optimal
        else f"no plan costs less by more than {percent_need(chosen.gap)}"
    )
    proof += ", if mixes that were not laid are as long as estimated"
    ended = "until nothing changed" if plan.stable else "the best of them"
    proof += f" (planned {_some(plan.rounds, 'time')}, {ended})"
    told = f"{_some(len(chosen.lays), 'lay')}, {_some(len(chosen.markers), 'marker')}"
    told += f", {write_need(cloth, units)} of cloth spread"
    yield f"{told}; {proof}."
    yield from _low_lines(run, plan)
    if plan.preferred:
        yield f"  {preferred_words(plan.preferred, currency)}"
    free = ", in lays of any height," if run.order.cutting.least_plies > 1 else ""
    for other, name in ((plan.one_size, f"Markers of one size{free}"), (plan.one_by_one, "One garment at a time")):
        more = sum(other.cloth(key, plan.costs.end_loss) for key in plan.lot.cloths) - cloth
        dearer = to_cents(Fraction(other.cost - chosen.cost))
        if not dearer and abs(more) < ALIKE:
            yield f"  {name} would take as much, and would be as dear."
            continue
        cloths = f"{write_length(abs(more), units)} {'more' if more >= 0 else 'less'} cloth"
        compared = _dearer(dearer, currency)
        yield f"  {name} would take {cloths}, and would be {compared} for cloth, spreading and cutting."
    for key, rolls in plan.rolls.items():
        yield from _roll_lines(plan.lot.cloths[key], rolls, units)
        yield from _short_lines(run, plan, key)
    if plan.leaves_out_repeats:
        yield (
            "  Cloth lost between plies, so each begins on the pattern, is bought, but left out of these costs and "
            "their proof."
        )


def _some(number: int, one: str, more: str = "") -> str:
    """So many of something."""
    return f"{number} {one if number == 1 else more or f'{one}s'}"


def preferred_words(told: Preferred, currency: str) -> str:
    """What comes before cost, what that gives, and what it costs more."""
    fewer, lower = told.cheapest.lays - told.chosen.lays, told.cheapest.height - told.chosen.height
    dearer = _dearer(to_cents(Fraction(told.chosen.cost - told.cheapest.cost)), currency)
    link = "as" if dearer == AS_DEAR else "than"
    if told.prefer == "fewest lays":
        known = "with these mixes fewer cannot do: proved" if told.proved else "fewer were not found"
        gained = f"{fewer} {'lay' if fewer == 1 else 'lays'} fewer" if fewer else "no lay fewer"
    else:
        known = "lower ones were not found with no more lays"
        gained = f"{count_plies(lower)} fewer in the highest lay" if lower else "no ply fewer in the highest lay"
    compared = f"{dearer} {link} the plan by cost" if fewer or lower else "it is the plan by cost as well"
    return f"Preferred: {told.prefer}. {gained[0].upper()}{gained[1:]}, {compared}; {known}."


def _low_lines(run: RunPlan, plan: LotPlan) -> Iterator[str]:
    """Lays with fewer plies than asked for, and whether there must be some."""
    least = run.order.cutting.least_plies
    if not plan.plan.low:
        return
    tickets = [ticket for ticket in run.tickets if ticket.part == plan.lot.part]
    low = [f"ticket {one.number}: {count_plies(n)}" for one in tickets if (n := sum(one.plies.values())) < least]
    proved = plan.plan.low == "proved" and plan.stable
    why = "proved: some lay must have fewer" if proved else "not proved impossible"
    yield f"  Not every lay has {least} plies or more ({why}). {'; '.join(low)[0].upper()}{'; '.join(low)[1:]}."


def roll_words(cloth: RunFabric, rolls: RollPlan, roll: int, units: Units) -> str:
    """How long a roll is, counted from 0; its shade lot, its width, and after how many plies a flaw comes."""
    own = cloth.rolls[roll]
    said = [write_left(own.length, units)]
    if own.shade_lot:
        said.append(f"shade lot {own.shade_lot}")
    if own.width:
        said.append(f"{format_bound(own.width, units)} wide")
    for flaw in own.flaws:
        before = sum(cut.roll == roll and cut.at < flaw.at for cut in rolls.cuts)
        places = format_bound(flaw.length, units), format_bound(flaw.at, units)
        said.append(f"cut out a flaw of {places[0]} at {places[1]}, after {count_plies(before)}")
    return ", ".join(said)


def left_lines(run: RunPlan) -> Iterator[str]:
    """What of the rolls is left for the next order, and its value."""
    found, units = rolls_left(run), run.order.written_in
    for name in dict.fromkeys(one.cloth for one in found):
        own = [one for one in found if one.cloth == name]
        length = write_left(sum(one.length for one in own), units)
        worth = sum((one.value for one in own if one.value is not None), Decimal(0))
        priced = all(one.value is not None for one in own)
        money = f", worth {run.costing.rule.written(worth)}" if priced else ""
        pieces = f"{len(own)} {'piece' if len(own) == 1 else 'pieces'}"
        yield f"Left of the rolls, {name}: {pieces} long enough to use, {length}{money}."


def _dearer(money: Decimal, currency: str) -> str:
    """How another plan compares."""
    if not money:
        return AS_DEAR
    return f"{write_money(abs(money), currency)} {'dearer' if money > 0 else 'cheaper'}"


def _short_lines(run: RunPlan, plan: LotPlan, key: str) -> Iterator[str]:
    """How much of the plies have no roll, under which tickets, and whether that is proved."""
    units, without, cloth = run.order.written_in, plan.without_roll(key), plan.lot.cloths[key]
    if not without:
        return
    tickets = [ticket.number for ticket in run.tickets if ticket.part == plan.lot.part]
    every, missing = plan.plies(key), [ply for plies in without.values() for ply in plies]
    each = "; ".join(
        f"ticket {tickets[lay]}: {count_plies(len(plies))}, {write_need(sum(plies), units)}"
        for lay, plies in without.items()
    )
    proved = "proved: these rolls cannot give them" if plan.rolls[key].impossible else "not proved impossible"
    splices = "" if cloth.splice or sum(every) > sum(roll.length for roll in cloth.rolls) else ", or allow splices"
    yield (
        f"  {cloth.name}: plies that have a roll: {len(every) - len(missing)} of {len(every)}. Missing:"
        f" {write_need(sum(missing), units)} ({proved}). {each[0].upper()}{each[1:]}. Get another roll{splices}."
    )


def _roll_lines(cloth: RunFabric, rolls: RollPlan, units: Units) -> Iterator[str]:
    """Which roll gives how many plies, and what is left of it."""
    name = cloth.name
    fewest = "the fewest possible" if rolls.optimal else f"{rolls.bound} at the least"
    spliced = f", {count_plies(rolls.splices)} spliced" if rolls.splices else ", no ply cut short or spliced"
    told = spliced if rolls.missing else f", {fewest}{spliced}"
    if not rolls.cuts:
        yield f"  {name}: no roll gives a ply."
        return
    yield f"  {name}: {_some(rolls.opened, 'roll')} opened{told}."
    for roll, left in rolls.remnants.items():
        number = len({cut.ply for cut in rolls.cuts if cut.roll == roll})
        told = roll_words(cloth, rolls, roll, units)
        yield f"    roll {roll + 1}, {told}: {count_plies(number)}; left over: {write_left(left, units)}"
    if any(roll.shade_lot for roll in cloth.rolls):
        yield "    Each lay takes this cloth from one shade lot, so every garment does."


def use_tables(run: RunPlan) -> Iterator[Table]:
    """What a garment of each size really takes of each cloth, and its share of the cloth's cost."""
    sizes = [size.name for size in run.garments.sizes]
    rows = [("cloth", *sizes)]
    for plan in run.lots:
        taken = plan.taken()
        for key, cloth in plan.lot.cloths.items():
            cells = [
                write_need(taken[key, size], run.order.written_in) if (key, size) in taken else "" for size in sizes
            ]
            rows.append((cloth.name, *cells))
    cost = run.costing.cost
    shares = []
    for size in sizes:
        number = sum(n for (_, s), n in run.cut.items() if s == size)
        whole = cost.run.by_part().get("cloth")
        own = cost.sizes[size].by_part().get("cloth", Decimal(0)) * number if size in cost.sizes else Decimal(0)
        shares.append(f"{float(own / whole):.1%}" if whole else "")
    rows.append(("share of the shell's cost", *shares))
    yield from fitted_tables("Cloth that each garment takes", rows, turned=_called(run))


def buying_table(run: RunPlan, supplier: str) -> Table:
    """What is bought of one supplier."""
    table = _table(f"To buy: {supplier or 'no supplier named'}", "what", "for", "quantity", "price", "cost", left=3)
    total, priced = Decimal(0), True
    for one in by_supplier(run.to_buy)[supplier]:
        cost = "" if one.cost is None else f"{one.cost:.2f}"
        table.add_row(Text(one.what), one.part, one.quantity, Text(price_words(one.price)), cost)
        total, priced = total + (one.cost or Decimal(0)), priced and one.cost is not None
    if priced:
        table.add_row("all", "", "", "", f"{total:.2f}", style="bold")
        if second := run.costing.rule.second:
            table.add_row(f"all, in {second.currency}", "", "", "", f"{second.of(total):.2f}")
    return table


NOT_COSTED = (
    "These are not in the cost: it has the trims of the order's own entries. Compare the two, so that none is"
    " forgotten."
)


def trims_table(run: RunPlan) -> Table:
    """What the drafts need besides cloth and rib, for all garments together."""
    table = _table("Trims that the drafts need, for all garments", "what", "buy", "for", "used at", left=4)
    for trim in run.trims:
        name, buy, sizes, where = trim.words
        table.add_row(name, buy, Text(sizes), where)
    return table


def _table(title: str, *columns: str, left: int = 1) -> Table:
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for i, name in enumerate(columns):
        table.add_column(Text(name), justify="left" if i < left else "right", header_style="dim")
    return table
