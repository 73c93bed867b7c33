"""Garments for people: tables of all, and of what one of them needs."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args, get_type_hints

from rich.table import Table
from rich.text import Text

from pieces.body.measures import MEASURES
from pieces.body.rules import RULES, to_measure
from pieces.garments.known import maker_of
from pieces.units import format_exact
from reports.ask.template import SIZE, TABLE
from reports.plan.drafted import finished_table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from dataclasses import Field
    from typing import Any

    from pieces.garments import Garment
    from pieces.units import Units
    from reports.garments.garments import GarmentShown

BY_SLEEVE = "give the option 'sleeve'"
"""What stands in for the arm's length."""

FEW = 4
"""Options that are named of each garment in the list of all."""


def garments_table(garments: Iterable[Garment]) -> Table:
    """All garments: name, title, what is measured for each, the first of its options."""
    table = _table("Garments", "name", "what it is", "measurements", "options")
    for garment in garments:
        table.add_row(garment.name, garment.title, _measured(garment), _options_in_short(garment))
    return table


def garment_tables(shown: GarmentShown, units: Units) -> Iterator[Table]:
    """One garment: its measurements, its options, and what it measures once sewn."""
    garment = shown.garment
    title = f"{garment.title[0].upper()}{garment.title[1:]} ({garment.name})"
    if garment.asked:
        table = _table(f"{title}: measurements", "measurement", "where the tape runs", "left out")
        must = to_measure(garment.measurements)
        for name in garment.asked:
            rule = "it must be measured" if name in must else RULES[name].words if name in RULES else BY_SLEEVE
            table.add_row(name, MEASURES[name].how, rule)
        yield table
    table = _table(f"{title}: options", "option", "default", "what it is")
    for option, choices in _options(garment):
        said = option.metadata["help"].rstrip(".")
        others = [choice for choice in choices if choice != option.default]
        table.add_row(option.name, _default(option, units), f"{said} (or {', '.join(others)})" if others else said)
    yield table
    if shown.pieces and shown.pieces.finished:
        yield finished_table(shown.pieces, units)


def garment_lines(shown: GarmentShown) -> Iterator[str]:
    """What to know of one garment besides its tables."""
    garment = shown.garment
    if not garment.measurements:
        yield "Nothing is measured for it."
    if shown.pieces and shown.pieces.finished:
        yield f"Finished sizes are those of size {SIZE} of the table {TABLE}, with all options at their defaults."
    if shown.refused:
        yield f"Size {SIZE} of the table {TABLE} cannot be drafted with all options at their defaults: {shown.refused}"
    package = maker_of(garment.name)
    if package:
        yield f"It comes from the package {package}."
    yield f"Write a job for it:  ellwand new {garment.name}.toml --garment {garment.name}"


def _measured(garment: Garment) -> str:
    return ", ".join(name.replace("_", " ") for name in garment.asked) or "none"


def _options_in_short(garment: Garment) -> str:
    names = [option.name for option in garment.options()]
    more = len(names) - FEW
    return ", ".join(names[:FEW]) + (f" and {more} more" if more > 0 else "")


def _options(garment: Garment) -> list[tuple[Field[Any], Sequence[str]]]:
    hints = get_type_hints(garment.style)
    return [
        (option, get_args(hints[option.name]) if option.metadata["kind"] == "choice" else ())
        for option in garment.options()
    ]


def _default(option: Field[Any], units: Units) -> str:
    default: Any = option.default
    if default is None:
        return f"worked out; such as {option.metadata['example']}"
    return format_exact(default, units) if option.metadata["kind"] == "length" else str(default)


def _table(title: str, *heads: str) -> Table:
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for head in heads:
        table.add_column(Text(head), header_style="dim", no_wrap=head == heads[0])
    return table
