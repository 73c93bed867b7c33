"""Quotes of a run: one for the order, or one for each client."""

from __future__ import annotations

from dataclasses import replace

from reports.run.quotes import QuoteFile, quotes_of
from tests.make.orders import planned


def test_files_of_quotes_are_told_apart() -> None:
    """Clients whose names differ in signs that no file has: each has a file of its own; one of signs alone has one."""
    run = planned((r"^navy = .*$", ""))
    sizes = [replace(run.garments.sizes[0], name=name) for name in ("A/1", "a 1", "??")]
    lines = tuple(replace(run.costing.quote.lines[0], size=size.name) for size in sizes)
    quote = replace(run.costing.quote, lines=lines)
    order = run.order.model_copy(update={"clients": "clients.csv"})
    garments, costing = replace(run.garments, sizes=tuple(sizes)), replace(run.costing, quote=quote)
    found = quotes_of(replace(run, order=order, garments=garments, costing=costing))
    assert [one.file for one in found] == ["quote-A-1", "quote-a-1-2", "quote-client"]
    assert quotes_of(run) == (QuoteFile("quote", "", run.costing.quote),)
