"""Actions of `ledger` about orders: the order itself, what was cut, sewn and delivered, and minutes."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reports.asking.options import OrderPath
from reports.commands.ledger.entering import Entering, OrderName, by_size, enter

ColourOf = Annotated[str, typer.Argument(metavar="COLOUR", help="The colour, as the order calls it.")]
SizeCounts = Annotated[list[str], typer.Argument(metavar="SIZE=N...", help="Garments of each size, such as M=8 L=6.")]


def order(
    file: OrderPath,
    entering: Entering,
    run: Annotated[
        Path | None,
        typer.Option("--run", metavar="FILE", help="The run.json of the order: planned cloth and minutes are kept."),
    ] = None,
    name: Annotated[
        str | None, typer.Option("--name", metavar="NAME", help="What to call it; by default as its file.")
    ] = None,
) -> None:
    """Enter an order: how many of each colour and size, and what was planned."""
    from reports.run.ledger_order import order_in_files

    enter("order", order_in_files(file, run, name), entering)


def cut(order: OrderName, colour: ColourOf, counts: SizeCounts, entering: Entering) -> None:
    """Enter garments that were cut."""
    enter("cut", {"order": order, "colour": colour, "garments": by_size(counts)}, entering)


def sewn(order: OrderName, colour: ColourOf, counts: SizeCounts, entering: Entering) -> None:
    """Enter garments that were sewn."""
    enter("sewn", {"order": order, "colour": colour, "garments": by_size(counts)}, entering)


def delivered(order: OrderName, colour: ColourOf, counts: SizeCounts, entering: Entering) -> None:
    """Enter garments that were delivered."""
    enter("delivered", {"order": order, "colour": colour, "garments": by_size(counts)}, entering)


def minutes(
    order: OrderName,
    work: Annotated[
        str,
        typer.Argument(metavar="WORK", help="cutting, sewing, finishing, or one of the order's operations."),
    ],
    minutes: Annotated[float, typer.Argument(metavar="MINUTES", help="How long it took.", min=0, max=1_000_000)],
    entering: Entering,
    garments: Annotated[
        int, typer.Option("--garments", metavar="N", min=1, max=1_000_000, help="For how many garments that was.")
    ],
) -> None:
    """Enter minutes that a kind of work took. Rates follow from them."""
    enter("minutes", {"order": order, "work": work, "minutes": minutes, "garments": garments}, entering)
