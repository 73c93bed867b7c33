"""The quotes of a run: one for the order, or one for each measured client, so that nobody reads another's prices."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING

from reports.money.cost.after import shared_out

if TYPE_CHECKING:
    from reports.money.cost.quote import Counts, Quote
    from reports.run.plan import RunPlan


@dataclass(frozen=True)
class QuoteFile:
    """A quote, the name of its file without an ending, and the client it is for; empty: the whole order."""

    file: str
    client: str
    quote: Quote


def quotes_of(run: RunPlan) -> tuple[QuoteFile, ...]:
    """The quotes to send, in the order of the clients."""
    whole = run.costing.quote
    if run.order.clients is None:
        return (QuoteFile("quote", "", whole),)
    found, taken = [], set[str]()
    sizes = [size.name for size in run.garments.sizes]
    billed = [sum((line.amount for line in whole.lines if line.size == size), Decimal(0)) for size in sizes]
    after = shared_out(whole.rule.after, billed)
    for size, charged in zip(sizes, after, strict=True):
        lines = tuple(line for line in whole.lines if line.size == size)
        if lines:
            title = f"{whole.title}, {size}"
            over, short = _of(whole.over, size), _of(whole.short, size)
            filled = {**whole.filled, "to": size}
            rule = replace(whole.rule, after=charged)
            quote = replace(
                whole, title=title, lines=lines, over=over, short=short, filled=filled, rule=rule, by_size=False
            )
            found.append(QuoteFile(_file(size, taken), size, quote))
    return tuple(found)


def _of(kinds: Counts, client: str) -> dict[tuple[str, str], int]:
    return {kind: number for kind, number in kinds.items() if kind[1] == client}


def _file(client: str, taken: set[str]) -> str:
    """A name that any system takes for a file, unlike all others."""
    plain = re.sub(r"[^\w]+", "-", client).strip("-") or "client"
    name, number = plain, 1
    while name.casefold() in taken:
        number += 1
        name = f"{plain}-{number}"
    taken.add(name.casefold())
    return f"quote-{name}"
