"""The living workbook put together: inputs, buying list, cost sheets, quote and other quantities."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.book.buying import BuyingFormulas, buying_sheet
from reports.book.costs import cost_sheet
from reports.book.formula import AGAIN
from reports.book.garment import garment_sheet, share_out
from reports.book.inputs import inputs_sheet
from reports.book.lines import lines_of
from reports.book.looks import money_format, words, worked
from reports.book.quantities import quantities_sheet
from reports.book.quote import quote_sheet
from reports.book.sheet import WORDS, LiveBook

if TYPE_CHECKING:
    from reports.book.making import LiveMaking
    from reports.book.sheet import LiveSheet


def live_book(making: LiveMaking) -> LiveBook:
    """The living sheets; without a cost, inputs and buying list alone."""
    inputs = inputs_sheet(making)
    buying, paid = buying_sheet(making, inputs)
    if making.cost is None or making.quote is None:
        _results(inputs, [])
        return LiveBook((inputs, buying))
    share_out(making, inputs, buying)
    lines = lines_of(making, inputs, buying, paid)
    run = cost_sheet(making, inputs, lines)
    garment = garment_sheet(making, inputs, buying, run, lines)
    quote = quote_sheet(making, inputs, run, garment)
    results = [(run, "run.total", "cost of all"), (garment, "mean.total", "cost of a garment, the mean of all")]
    if not making.quote.rule.by_size:
        results.append((garment, "mean.wholesale", "wholesale price"))
        results += [(garment, "mean.retail", "retail price")] if making.quote.rule.retail is not None else []
    results += [
        (quote, "quote.total", "billed, without tax"),
        (quote, "quote.garments", "garments billed"),
        (quote, "break_even", "to be sold for all to be paid for"),
    ]
    if making.ordered is not None:
        results += [(quote, "quote.over", "garments to stock"), (quote, "quote.short", "ordered, but not cut")]
    _results(inputs, results)
    sheets = [inputs, buying, run, garment, quote]
    if making.others:
        sheets.append(quantities_sheet(making, BuyingFormulas(making, inputs, buying), run, lines))
    return LiveBook(tuple(sheets))


def _results(inputs: LiveSheet, results: list[tuple[LiveSheet, str, str]]) -> None:
    """What comes out, on the sheet of inputs, so that a change is seen at once."""
    inputs.row = inputs.places["results"][0]
    differs = f'IF({inputs.of("differs")}=0,"as planned","{AGAIN}: other numbers are to be cut than were planned")'
    inputs.put(0, words("cloth and rib"))
    inputs.put(1, worked("as planned", differs, WORDS), "result.plan")
    inputs.row += 1
    for sheet, key, text in results:
        cell = sheet.cells[sheet.places[key]]
        inputs.put(0, words(text))
        inputs.put(1, worked(cell.value, sheet.of(key), cell.number, "total"), f"result.{key}")
        inputs.row += 1
