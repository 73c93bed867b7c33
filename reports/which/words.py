"""Which of the cloths on hand will do, in words."""

from __future__ import annotations

import shlex
from typing import TYPE_CHECKING

from pieces.units import INCH, YARD, Units, format_bound, format_size
from reports.fit.remnant import selvedge_line
from reports.fit.words import laid_words, why_not
from reports.stock.on_hand import MEASURE

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.stock.item import StockItem
    from reports.which.which import ClothTried, WhichFound


def which_lines(found: WhichFound) -> Iterator[str]:
    """The answer first, then each cloth, then what is to be done before cutting."""
    best, number = found.best, len(found.tried)
    cloths = "the cloth on hand" if number == 1 else f"the {number} cloths on hand"
    if best:
        yield f"Yes: {best.item.label} will do, {item_words(best.item)}. Of those that will do it is the smallest."
    elif all(one.answer == "no" for one in found.tried):
        yield f"No, proved: the pieces do not fit on {cloths}."
    else:
        yield f"Not found: on {cloths} no layout was found, and not for all is it proved that there is none."
    for one in found.tried:
        yield f"  {one.item.label}, {item_words(one.item)}: {reason(one, found)}."
    if found.was_stopped:
        yield "  The search was stopped: ask again to look at the others."
    elif any(one.answer == "not found" for one in found.tried):
        yield "  Not found is not no: search longer with --seconds, prove longer with --prove."
    if best:
        yield f"  To draw it:  {command(best, found)}"
        yield MEASURE
    if any(one.answer == "yes" and one.task and not one.task.selvedge_given for one in found.tried):
        yield selvedge_line(found.job.written_in)


def item_words(item: StockItem) -> str:
    """What a cloth is: its name, colour and lot, width, and what is left."""
    of = [f"'{item.name}'", item.colour, f"lot {item.lot}" if item.lot else ""]
    size = f"{format_size(item.width or 0.0, item.units)} wide, {item.write(item.left)} left"
    return ", ".join([*(word for word in of if word), size])


def reason(one: ClothTried, found: WhichFound) -> str:
    """Its answer, and why."""
    units, fitting = found.job.written_in, one.fitting
    if one.answer == "refused":
        return f"cannot be laid so: {one.refused.rstrip('.')}"
    if one.answer == "not looked at" or fitting is None:
        return "not looked at"
    if one.answer == "no":
        why = "; ".join(why_not(tried, fitting, units) for tried in fitting.tried if tried.disproof or tried.refused)
        return f"no, proved: {why}"
    if one.answer == "not found":
        return f"not found in {fitting.seconds:.1f} s, and no proof that there is none"
    left = format_bound(max(0.0, fitting.remnant.length - (one.marker.length if one.marker else 0.0)), units)
    laid = laid_words(fitting.layout, fitting) if fitting.layout else ""
    return f"yes, {laid}; {left} of its length is left over"


def command(one: ClothTried, found: WhichFound) -> str:
    """The command that lays it again and draws it."""
    item = one.item
    size = f"{_exact(item.width or 0.0, item.units, INCH, 'in')} x {_exact(float(item.left), item.units, YARD, 'yd')}"
    like = ["--cloth", one.like.name] if one.like else []
    return shlex.join(["ellwand", "fits", found.job.name, "--remnant", size, *like, "--out", "cut"])


def _exact(mm: float, units: Units, unit: float, called: str) -> str:
    """A length rounded down, so that what is drawn is there."""
    if units is Units.METRIC:
        return f"{int(mm + 1e-6) / 10:g} cm"
    return f"{int(mm / unit * 10_000 + 1e-6) / 10_000:g} {called}"
