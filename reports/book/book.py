"""The living workbook put together: inputs, buying list, cost sheets, quote and other quantities."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.book.buying import BuyingFormulas, buying_sheet
from reports.book.costs import cost_sheet
from reports.book.formula import AGAIN
from reports.book.garment import garment_sheet, share_out
from reports.book.inputs import inputs_sheet
from reports.book.lines import lines_of
from reports.book.looks import words, worked
from reports.book.quantities import quantities_sheet
from reports.book.quote import quote_sheet
from reports.sheets.living import WORDS, LiveBook

if TYPE_CHECKING:
    from collections.abc import Mapping

    from reports.book.making import LiveMaking
    from reports.sheets.living import LiveSheet


Results = tuple[tuple[str, str, str], ...]
"""What comes out: on which sheet, under which key, and in words."""


def live_book(making: LiveMaking) -> LiveBook:
    """The living sheets; without a cost, inputs and buying list alone."""
    results = _results(making)
    inputs = inputs_sheet(making, len(results) + 1)
    buying, paid = buying_sheet(making, inputs)
    sheets = [inputs, buying]
    if making.cost is not None:
        share_out(making, inputs, buying)
        lines = lines_of(making, inputs, buying, paid)
        run = cost_sheet(making, inputs, lines)
        garment = garment_sheet(making, inputs, buying, run, lines)
        sheets += [run, garment, quote_sheet(making, inputs, run, garment)]
        if making.others:
            sheets.append(quantities_sheet(making, BuyingFormulas(making, inputs, buying), run, lines))
    _show(inputs, results, {sheet.title: sheet for sheet in sheets})
    return LiveBook(tuple(sheets))


def _results(making: LiveMaking) -> Results:
    if making.cost is None or making.quote is None:
        return ()
    rule = making.quote.rule
    own = (
        ("One garment", "mean.wholesale", "wholesale price"),
        *((("One garment", "mean.retail", "retail price"),) if rule.retail is not None else ()),
    )
    return (
        ("Cost sheet", "run.total", "cost of all"),
        ("One garment", "mean.total", "cost of a garment, the mean of all"),
        *(() if rule.by_size else own),
        ("Quote", "quote.to_pay", "billed, without tax"),
        ("Quote", "quote.garments", "garments billed"),
        ("Quote", "break_even", "to be sold for all to be paid for"),
        *(
            (("Quote", "quote.over", "garments to stock"), ("Quote", "quote.short", "ordered, but not cut"))
            if making.ordered is not None
            else ()
        ),
    )


def _show(inputs: LiveSheet, results: Results, sheets: Mapping[str, LiveSheet]) -> None:
    """What comes out, on the sheet of inputs, so that a change is seen at once."""
    inputs.row = inputs.places["results"][0]
    differs = f'IF({inputs.of("differs")}=0,"as planned","{AGAIN}: other numbers are to be cut than were planned")'
    inputs.put(0, words("cloth and rib"))
    inputs.put(1, worked("as planned", differs, WORDS), "result.plan")
    inputs.row += 1
    for title, key, text in results:
        sheet = sheets[title]
        cell = sheet.cells[sheet.places[key]]
        inputs.put(0, words(text))
        inputs.put(1, worked(cell.value, sheet.of(key), cell.number), f"result.{key}")
        inputs.row += 1
