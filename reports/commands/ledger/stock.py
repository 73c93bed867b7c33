"""Actions of `ledger` about what is on hand: bought, remnant, used."""

from __future__ import annotations

from typing import Annotated, Literal

import typer

from reports.commands.ledger.entering import Entering, ItemName, enter

MaterialName = Annotated[
    str, typer.Argument(metavar="NAME", help="What it is, called as the job or the order calls it.")
]
FullWidth = Annotated[str | None, typer.Option("--width", metavar="WIDTH", help="Full width of cloth or rib.")]
Colour = Annotated[str, typer.Option("--colour", metavar="NAME", help="Its colour, as the order calls it.")]
ShadeLot = Annotated[str, typer.Option("--lot", metavar="NAME", help="Its shade lot, as the label says.")]


def bought(
    what: Annotated[Literal["cloth", "rib", "trim"], typer.Argument(metavar="cloth|rib|trim", help="What it is.")],
    name: MaterialName,
    amount: Annotated[str, typer.Argument(metavar="AMOUNT", help='A length such as "25 yd", or a number such as 40.')],
    entering: Entering,
    width: FullWidth = None,
    colour: Colour = "",
    lot: ShadeLot = "",
) -> None:
    """Enter what came in: a roll of cloth, rib or a trim. It gets a number, by which it is called from then on."""
    told = {"what": what, "name": name, "amount": amount, "width": width, "colour": colour, "lot": lot}
    enter("bought", told, entering)


def remnant(
    name: Annotated[
        str, typer.Argument(metavar="NAME", help='What cloth it is; "" with --from, which says it.', show_default=False)
    ],
    length: Annotated[str, typer.Argument(metavar="LENGTH", help='Its length, such as "1 1/4 yd".')],
    entering: Entering,
    width: FullWidth = None,
    colour: Colour = "",
    lot: ShadeLot = "",
    of: Annotated[
        str | None,
        typer.Option("--from", metavar="ITEM", help="What it was cut from: its length is taken off there."),
    ] = None,
) -> None:
    """Enter a remnant: a piece of cloth with its length, its width and its shade lot."""
    told = {"name": name, "length": length, "width": width, "colour": colour, "lot": lot, "of": of}
    enter("remnant", told, entering)


def used(
    item: ItemName,
    amount: Annotated[str, typer.Argument(metavar="AMOUNT", help='A length, a number, or "all" that is left.')],
    entering: Entering,
    order: Annotated[str | None, typer.Option("--for", metavar="ORDER", help="The order that it was used for.")] = None,
) -> None:
    """Enter what was used of a thing on hand: cut, sewn in, sold or thrown away."""
    enter("used", {"item": item, "amount": amount, "order": order}, entering)
