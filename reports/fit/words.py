"""Whether the pieces fit on a remnant: the answer in words, and its files."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from pieces.units import format_bound, format_exact, format_need, percent_need, percent_reached
from reports.ask.draft import hole_notes
from reports.fit.remnant import like_lines, selvedge_line, size_words
from reports.plan.words import SPREAD_WORDS
from reports.printed import cells_table
from reports.rows import table_cells

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.table import Table

    from nesting.fit.fitting import Disproof, Fitting, Tried
    from nesting.marker.marker import Marker
    from pieces.units import Units
    from reports.fit.remnant import RemnantTask


EDGES = {"double-folded": "both edges folded to the middle"}
"""How a spread is told of cloth whose selvedges were cut off, where that differs."""


def laid_words(tried: Tried, fitting: Fitting) -> str:
    """How the remnant lies."""
    words = SPREAD_WORDS[tried.way.spread]
    words = words if fitting.remnant.selvedge else EDGES.get(tried.way.spread, words)
    return words + (", turned end for end" if tried.way.turned else "")


def fits_lines(fitting: Fitting, task: RemnantTask) -> Iterator[str]:
    """The answer in plain words, with its proof where there is one."""
    units, found = task.units, fitting.layout
    what, on = _what(task), _where(fitting, task)
    reasons = [
        f"{laid_words(tried, fitting)}: {why_not(tried, fitting, units)}"
        for tried in fitting.tried
        if tried is not found and (tried.disproof or tried.refused)
    ]
    if found:
        yield f"Yes: {_fitting_words(found, task)} {on}, {laid_words(found, fitting)}."
        yield from lay_lines(fitting, task)
        yield from (f"  {line}" for line in left_over_lines(fitting, units))
    elif fitting.answer == "no" and len(reasons) == 1:
        yield f"No, proved: {what} do not fit on {on}, {reasons.pop()}."
    elif fitting.answer == "no":
        yield f"No, proved: {what} do not fit on {on}."
    else:
        yield f"Not found in {fitting.seconds:.1f} s: no layout on {on}, and no proof that there is none."
        yield from (f"  {line}" for line in nearest_lines(fitting, units))
        yield "  Search longer with --seconds, prove longer with --prove, or try another way with --spread."
    yield from (f"  {reason}" for reason in reasons)
    if fitting.answer != "no" and not task.selvedge_given:  # what does not fit, fits even less between selvedges
        yield f"  {selvedge_line(units)}"
    yield from (f"  {line}" for line in (*task.piecing, *hole_notes(task.whole), *like_lines(task, fitting.remnant)))


def _what(task: RemnantTask) -> str:
    return f"the pieces of a ply of lay {task.lay.facts.ticket}" if task.lay else "the pieces"


def _where(fitting: Fitting, task: RemnantTask) -> str:
    """What they are to lie on."""
    size = size_words(fitting.remnant, task.units)
    if task.lay is None or task.lay.table is None:
        return f"the remnant of {size}"
    return f"the table of {format_exact(task.lay.table, task.units)}, cloth of {size} between the ends of a ply"


def _fitting_words(found: Tried, task: RemnantTask) -> str:
    if task.lay and found.known:
        return f"the marker of lay {task.lay.facts.ticket} goes, as it lies, on"
    return f"{_what(task)} fit{', laid again,' if task.lay else ''} on"


def lay_lines(fitting: Fitting, task: RemnantTask) -> Iterator[str]:
    """How many plies a remnant gives; and that a marker laid anew is not that of the lay's ticket."""
    lay, found = task.lay, fitting.layout
    if lay is None or found is None:
        return
    if not found.known:
        yield "  The lay's own marker does not go there as it lies: cut from this layout, not from the ticket."
        return
    plies, ply = lay.plies_on(fitting), format_need(lay.ply, task.units)
    if plies:
        gives = "1 ply" if plies == 1 else f"{plies} plies"
        yield f"  Its length gives {gives} of {ply}, ends included; the lay has {lay.facts.number}."
    elif plies == 0:
        yield f"  A ply takes {ply} with its ends: this one has less there, so its ends must be true."


def left_over_lines(fitting: Fitting, units: Units) -> Iterator[str]:
    """What a layout leaves over; and that the cloth was turned, if it was."""
    found = fitting.layout
    if found is None or found.result is None:
        return
    marker = found.result.marker
    left = format_bound(max(0.0, fitting.remnant.length - marker.length), units)
    shows_none = left == format_bound(0.0, units)
    ends = "It takes all of the length" if shows_none else f"{left} of the length is left over at the end"
    yield f"{ends}; {percent_reached(waste(fitting, marker))} of the usable cloth is left over in all."
    if found.way.turned:
        yield "It did not fit with the nap the other way: the start is at the other end."


def nearest_lines(fitting: Fitting, units: Units) -> Iterator[str]:
    """How near the best layout came that does not fit."""
    nearest = fitting.nearest
    if nearest is None or nearest.result is None:
        return
    marker = nearest.result.marker
    needs = format_need(marker.length, units)
    yield f"The best needed {needs} of length, {laid_words(nearest, fitting)}; there are {_there(fitting, units)}."
    share = percent_need(waste(fitting, marker))
    yield f"At most {share} of the remnant's usable cloth would be left over if it fitted."


def why_not(tried: Tried, fitting: Fitting, units: Units) -> str:
    """Why the pieces do not fit when the remnant lies in this way."""
    if tried.disproof is None:
        return str(tried.refused)
    return _proof(tried.disproof, fitting, units)


def _proof(proof: Disproof, fitting: Fitting, units: Units) -> str:
    if proof.kind == "width":
        return proof.held
    if proof.kind == "place":
        return f"there is no place for '{proof.held}' alone: in every position it meets a cut-out or an edge"
    if proof.kind == "area":
        if proof.needs == math.inf:
            return "no usable cloth is left beside the cut-outs"
        share = percent_reached(proof.needs)  # rounded down: so much is proved
        much = f"more than {share}" if share == percent_reached(1) else share
        return f"the pieces alone need {much} of the usable cloth"
    there, least = _there(fitting, units), format_bound(proof.needs, units)
    is_hardly_over = least == format_bound(fitting.remnant.length, units)
    if proof.kind == "piece":
        long = f"longer than {there}" if is_hardly_over else f"at least {least} long; there are {there}"
        return f"'{proof.held}' alone is {long}"
    if is_hardly_over:
        return f"no layout is as short as {there} ({proof.held})"
    return f"no layout is shorter than {least} ({proof.held}); there are {there}"


def _there(fitting: Fitting, units: Units) -> str:
    return format_exact(fitting.remnant.length, units)


def waste(fitting: Fitting, marker: Marker) -> float:
    """Share of the remnant's usable cloth that does not become pieces, 0 to 1."""
    return max(0.0, 1 - marker.problem.piece_area / fitting.remnant.usable)


def places_table(marker: Marker, units: Units) -> Table:
    """Where each piece lies, for who has no drawing at hand."""
    return cells_table("Where the pieces lie on the remnant", table_cells(marker, units))
