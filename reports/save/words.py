"""What each change saves, in words: a shorter marker and a smaller purchase are two things."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from pieces.units import format_bound, format_need
from reports.save.saves import NOW, SEEDS

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.units import Units
    from reports.save.saves import Saving, Savings


def shows(mm: float, units: Units) -> bool:
    """Whether a tape shows a difference."""
    return format_bound(abs(mm), units) != format_bound(0.0, units)


def length_words(saved: float, units: Units) -> str:
    """By how much a marker is shorter or longer; differences that no tape shows are none."""
    if not shows(saved, units):
        return "as long"
    return f"{format_bound(saved, units)} shorter" if saved > 0 else f"{format_need(-saved, units)} longer"


def bought_words(found: Savings, row: Saving) -> str:
    """How much less or more is bought."""
    sold = found.job.fabric[found.fabric - 1].sold_by
    if abs(row.less) >= 1:
        return f"buys {sold.write(abs(row.less))} {'less' if row.less > 0 else 'more'}"
    return "buys no less" if row.saved > 0 and shows(row.saved, found.job.written_in) else "buys no more"


def savings_table(found: Savings) -> Table:
    """Every change: by how much its marker is shorter, and how much less is bought."""
    units, offer = found.job.written_in, found.job.fabric[found.fabric - 1]
    table = Table(title=f"Changes, on {offer.name}", title_justify="left", title_style="bold", box=None, pad_edge=False)
    for name in ("change", "marker", "is", "buy", "so it", "cost"):
        table.add_column(name, justify="left" if name == "change" else "right", header_style="dim")
    for row in found.rows:
        if row.marker is None or row.purchase is None:
            table.add_row(Text(row.name), row.outcome, "", "", "", "")
            continue
        cost = offer.price.write(row.cost) if offer.price and row.cost is not None else ""
        length = format_need(row.marker.cloth_length, units)
        changed = ("", "") if row.name == NOW else (length_words(row.saved, units), bought_words(found, row))
        table.add_row(Text(row.name), length, changed[0], row.purchase.text, changed[1], cost)
    return table


def savings_lines(found: Savings) -> Iterator[str]:
    """The answer in plain words, and why some changes have no figure."""
    yield from gain_lines(found)
    if found.cut_short:
        yield "Cut short: not every change was laid. Run the command again to lay the rest."
    if found.rows[0].marker is not None:
        yield from (f"{row.name}: {row.refused}" for row in found.rows[1:] if row.refused)


def gain_lines(found: Savings) -> Iterator[str]:
    """What saves most, in plain words: what buys less first."""
    now, *changed = found.rows
    if now.marker is None:
        return
    units, scatter = found.job.written_in, found.scatter or 0.0
    gains = [row for row in changed if row.less >= 1 or (row.saved > scatter and shows(row.saved, units))]
    gains.sort(key=lambda row: (-round(row.less), -row.saved))
    for row in gains[:3]:
        name = f"{row.name[0].upper()}{row.name[1:]}"
        yield f"{name} {bought_words(found, row)}: the marker is {length_words(row.saved, units)}."
    if not gains:
        yield "No change tried saves cloth."
    yield scatter_line(found)


def scatter_line(found: Savings) -> str:
    """How much of a difference may come from the search alone."""
    if found.scatter is None:
        return "How much of a difference comes from the search alone is not known: search longer."
    units = found.job.written_in
    if not shows(found.scatter, units):
        return f"Laid from {SEEDS} random seeds, the job as it is takes the same length each time."
    return (
        f"Laid from {SEEDS} random seeds, the job as it is differs by up to {format_need(found.scatter, units)}:"
        " smaller differences may come from the search alone."
    )
