"""Whether the pieces fit on a remnant: the question as it is written, and the answer in words and for machines."""

from __future__ import annotations

import json
import math
import re
from typing import TYPE_CHECKING, Any

from rich.table import Table
from rich.text import Text

from nesting.errors import RemnantError
from nesting.remnant import Remnant, Zone
from pieces.errors import LengthError
from pieces.units import format_size, parse_length
from reports.draw.rows import table_cells
from reports.machine import SCHEMA, layout_to_plain
from reports.output import write_text
from reports.words import SPREAD_WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from nesting.fitting import Disproof, Fitting, Tried
    from nesting.marker import Marker
    from pieces.units import Units
    from reports.job import Job

WRITE_SIZE = 'write width and length with their units, such as "60 in x 1 1/4 yd"'
WRITE_CUT_OUT = (
    'write distance from the start, distance from the lower edge, length and width, such as "0 in, 30 in, 12 in, 15 in"'
)

FILES = ("fits.json", "fits.pdf", "fits.png", "fits.svg", "fits.txt")


def parse_remnant(
    size: str, cut_outs: Sequence[str] = (), *, selvedge: str = "0 in", nap: bool = False, gap: float = 0.0
) -> Remnant:
    """The remnant that a person describes, width first: ``60 in x 1 1/4 yd``.

    Parameters
    ----------
    cut_outs
        Each with four lengths: ``0 in, 30 in, 12 in, 15 in``.

    Raises
    ------
    RemnantError
        If a size cannot be read or makes no sense.
    """
    sizes = re.split(r"\s*[x×]\s*|\s+by\s+", size.strip(), flags=re.IGNORECASE)
    if len(sizes) != 2:
        raise RemnantError(f"cannot read the remnant '{size}': {WRITE_SIZE}")
    width, length = (_length(text, f"the remnant '{size}'") for text in sizes)
    zones = tuple(_parse_cut_out(text) for text in cut_outs)
    return Remnant(width, length, zones, _length(selvedge, "the selvedge"), nap, gap)


def _parse_cut_out(text: str) -> Zone:
    where = f"the cut-out '{text}'"
    sizes = text.split(",")
    if len(sizes) != 4:
        raise RemnantError(f"cannot read {where}: {WRITE_CUT_OUT}")
    start, low, length, width = (_length(size, where) for size in sizes)
    return Zone(start, start + length, low, low + width)


def _length(text: str, where: str) -> float:
    try:
        return parse_length(text)
    except LengthError as error:
        raise RemnantError(f"cannot read {where}: {error}") from error


def size_words(remnant: Remnant, units: Units) -> str:
    """The remnant's size, and what is missing of it."""
    size = f"{format_size(remnant.width, units)} × {format_size(remnant.length, units)}"
    number = len(remnant.cut_outs)
    return size + (f" with {number} cut-out{'s' if number > 1 else ''}" if number else "")


def laid_words(tried: Tried) -> str:
    """How the remnant lies."""
    return SPREAD_WORDS[tried.way.spread] + (", turned end for end" if tried.way.turned else "")


def fits_lines(fitting: Fitting, job: Job) -> Iterator[str]:
    """The answer in plain words, with its proof where there is one."""
    units, remnant = job.written_in, fitting.remnant
    on = f"the remnant of {size_words(remnant, units)}"
    found = fitting.layout
    if found:
        yield f"Yes: the pieces fit on {on}, {laid_words(found)}."
        yield from (f"  {line}" for line in left_over_lines(fitting, units))
    elif fitting.answer == "no":
        yield f"No: the pieces do not fit on {on}, proved."
    else:
        yield from _not_found(fitting, on, units)
    for tried in fitting.tried:
        if tried is not found and (tried.disproof or tried.refused):
            yield f"  {laid_words(tried)}: {why_not(tried, fitting, units)}"


def left_over_lines(fitting: Fitting, units: Units) -> Iterator[str]:
    """What a layout leaves over; and that the cloth was turned, if it was."""
    found = fitting.layout
    if found is None or found.result is None:
        return
    marker = found.result.marker
    left = format_size(max(0.0, fitting.remnant.length - marker.length), units)
    ends = "It takes all of the length" if left.startswith("0 ") else f"{left} of the length is left over at the end"
    yield f"{ends}; {waste(fitting, marker):.1%} of the usable cloth is left over in all."
    if found.way.turned:
        yield "With the nap the other way about it did not go: the start is at the other end."


def _not_found(fitting: Fitting, on: str, units: Units) -> Iterator[str]:
    yield f"Not found in {fitting.seconds:.1f} s: no layout on {on}, and no proof that there is none."
    nearest = fitting.nearest
    if nearest and nearest.result:
        marker = nearest.result.marker
        needs = _more(marker.length, fitting.remnant.length, units)
        yield f"  The best needed {needs} of length, {laid_words(nearest)}; there are {_there(fitting, units)}."
        share = math.ceil(1000 * waste(fitting, marker)) / 10
        yield f"  If it did fit, at most {share:.1f}% of the remnant's usable cloth would be waste."
    yield "  Search longer with --seconds, or lay it another way with --spread."


def why_not(tried: Tried, fitting: Fitting, units: Units) -> str:
    """Why the pieces do not fit when the remnant lies in this way."""
    if tried.disproof is None:
        return str(tried.refused)
    return _proof(tried.disproof, fitting, units)


def _proof(proof: Disproof, fitting: Fitting, units: Units) -> str:
    if proof.kind == "width":
        return proof.held
    if proof.kind == "place":
        return f"there is no place for '{proof.held}' alone: wherever it lies, it meets a cut-out or an edge"
    if proof.kind == "area":
        if proof.needs == math.inf:
            return "no usable cloth is left beside the cut-outs"
        return f"the pieces alone are {math.ceil(1000 * proof.needs) / 10:.1f}% of the usable cloth there is"
    needs = _more(proof.needs, fitting.remnant.length, units)
    if proof.kind == "piece":
        return f"'{proof.held}' alone is {needs} long; there are {_there(fitting, units)}"
    return f"no layout is shorter than {needs} ({proof.held}); there are {_there(fitting, units)}"


def _there(fitting: Fitting, units: Units) -> str:
    return format_size(fitting.remnant.length, units)


def _more(length: float, than: float, units: Units) -> str:
    """A length, mm, that is more than another, in words that show it."""
    words = format_size(length, units)
    return f"a little more than {words}" if words == format_size(than, units) else words


def waste(fitting: Fitting, marker: Marker) -> float:
    """Share of the remnant's usable cloth that does not become pieces, 0 to 1."""
    return max(0.0, 1 - marker.problem.piece_area / fitting.remnant.usable)


def places_table(marker: Marker, units: Units) -> Table:
    """Where each piece lies, for who has no drawing at hand."""
    heads, *lines = table_cells(marker, units)
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="dim")
    for head in heads:
        table.add_column(head)
    for line in lines:
        table.add_row(*(Text(words) for words in line))
    return table


def fits_to_plain(fitting: Fitting, job: Job) -> dict[str, Any]:
    """The answer for machines; every length in mm."""
    remnant, found, units = fitting.remnant, fitting.layout, job.written_in
    nearest = found or fitting.nearest
    marker = nearest.result.marker if nearest and nearest.result else None
    return {
        "schema": SCHEMA,
        "job": job.name,
        "unit": "mm",
        "answer": fitting.answer,
        "remnant": {
            "width": remnant.width,
            "length": remnant.length,
            "selvedge": remnant.selvedge,
            "nap": remnant.nap,
            "cut_outs": [zone._asdict() for zone in remnant.cut_outs],
            "usable_mm2": remnant.usable,
        },
        "seconds": round(fitting.seconds, 3),
        "left_over_mm": remnant.length - marker.length if found and marker else None,
        "waste_percent": 100 * waste(fitting, marker) if marker else None,
        "needed_mm": marker.length if marker else None,
        "tried": [_tried_to_plain(tried, fitting, units) for tried in fitting.tried],
        "layout": _layout(found) if found else None,
        "words": list(fits_lines(fitting, job)),
    }


def _tried_to_plain(tried: Tried, fitting: Fitting, units: Units) -> dict[str, Any]:
    length, result = fitting.remnant.length, tried.result
    ruled_out = tried.disproof is not None or tried.refused is not None
    return {
        "spread": tried.way.spread,
        "turned": tried.way.turned,
        "answer": "yes" if tried is fitting.layout else "no" if ruled_out else "not found" if result else "not tried",
        "proof": tried.disproof.kind if tried.disproof else None,
        "bound_mm": tried.disproof.needs if tried.disproof and tried.disproof.kind in ("piece", "length") else None,
        "reason": why_not(tried, fitting, units) if ruled_out else None,
        "marker_mm": result.marker.length if result else None,
        "over_mm": result.marker.length - length if result else None,
        "iterations": result.iterations if result else None,
    }


def _layout(found: Tried) -> dict[str, Any] | None:
    if found.result is None:
        return None
    marker = found.result.marker
    faults = [outline.tolist() for outline in marker.problem.faults]
    return {"spread": found.way.spread, "turned": found.way.turned, "cut_outs": faults, **layout_to_plain(marker)}


def write_fits(fitting: Fitting, job: Job, folder: Path) -> list[Path]:
    """Write the answer, and with a layout its picture; the files written."""
    plain, *pictures, text = (folder / name for name in FILES)
    write_text(plain, json.dumps(fits_to_plain(fitting, job)))
    found, written = fitting.layout, [plain]
    if found and found.result:
        from reports.draw.files import save
        from reports.draw.remnant import remnant_page

        units = job.written_in
        title = job.model().title
        lines = list(left_over_lines(fitting, units))
        if found.result.marker.problem.faults:
            lines.append("Hatched both ways: a cut-out, on which nothing may lie.")
        figure = remnant_page(
            found.result.marker,
            fitting.remnant.length,
            title=f"{title[0].upper() + title[1:]}, on a remnant",
            subtitle=f"{size_words(fitting.remnant, units)}, {laid_words(found)}"
            f"{', with nap' if fitting.remnant.nap else ''}",
            units=units,
            lines=("It fits", *lines),
        )
        for path in pictures:
            save(figure, path)
        written += pictures
    write_text(text, "\n".join(fits_lines(fitting, job)) + "\n")
    return [*written, text]
