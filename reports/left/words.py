"""What is left of the cloth bought: the answer in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.left.bare import bare_cloth
from pieces.units import (
    Units,
    format_bound,
    format_exact,
    format_size,
    metres_bound,
    percent_reached,
)
from reports.left.left import LEAST_SIDE, LEAST_STRIP
from reports.plan.words import SPREAD_WORDS
from reports.printed import cells_table
from reports.rows import beyond, edge_name, marker_rows

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.table import Table

    from nesting.left.rectangles import Rectangle
    from reports.left.left import Left, OtherLaid

SQUARE_YARD, SQUARE_METRE = 914.4**2, 1e6
ON_EDGE = 1e-3
"""What is no farther from a fold than this, mm, lies on it."""


def left_lines(found: Left) -> Iterator[str]:
    """How much is free, what can be cut of it, and whether another job's pieces fit."""
    plan, units = found.plan, found.units
    yield f"Left of {plan.offer.name}, {plan.purchase.text} bought, {SPREAD_WORDS[found.spread]}:"
    yield f"  {free_words(found)}"
    if not found.rectangles:
        yield f"  No free rectangle with sides of {format_size(LEAST_SIDE, units)} or more was found."
    if found.task.strip and not found.strips:
        width = format_exact(found.task.strip, units)
        yield f"  No strip {width} wide and {format_size(LEAST_STRIP, units)} long or more was found."
    if found.task.bias:
        yield f"  {bias_words(found, found.task.bias)}"
    if found.bought != (1.0, 1.0):
        yield "  Sizes are of the washed cloth, as it is cut; 'as bought' is before it shrinks."
    if found.beside:
        yield from beside_lines(found.beside)


def free_words(found: Left) -> str:
    """How much cloth is free, as it was bought, and its share of the usable cloth."""
    along, across = found.bought
    area = found.free * along * across
    much = f"{area / SQUARE_YARD:.2f} sq yd" if found.units is Units.INCHES else f"{area / SQUARE_METRE:.2f} m²"
    usable = sum(bare.layers * bare.zone.area for bare in bare_cloth(found.marker, found.length))
    holes = any(piece.has_hole for cut, _ in found.asked.sets for piece in cut)
    but = ", but no hole of a piece" if holes else ""
    return f"{much} is free, {percent_reached(found.free / usable)} of the usable cloth, all corners counted{but}."


def bias_words(found: Left, depth: float) -> str:
    """How much bias strip the largest rectangle gives."""
    units, width = found.units, format_exact(depth, found.units)
    if not found.bias:
        return f"No strip on the bias {width} wide was found in the largest rectangle."
    total = sum(strip.length for strip in found.bias)
    longest = max(strip.length for strip in found.bias)
    layers = found.rectangles[0].layers
    number = len(found.bias)
    each = f"{number} strip{'s' if number > 1 else ''}, the longest {format_bound(longest, units)}"
    more = f"; {_long(total * layers, units)} from {layers_words(layers)} layers" if layers > 1 else ""
    return (
        f"On the bias, {width} wide, A gives {_long(total, units)}: {each}{more}."
        " Ends are square; what joins take is not taken off."
    )


def _long(mm: float, units: Units) -> str:
    return format_bound(mm, units) if units is Units.INCHES else metres_bound(mm)


def beside_lines(beside: OtherLaid) -> Iterator[str]:
    """Whether another job's pieces fit, and in which ways no place was found."""
    name, number = beside.job.name, beside.pieces
    pieces = f"{number} piece{'s' if number > 1 else ''}"
    if beside.spread:
        yield f"Yes: {name} fits as well ({pieces}), {SPREAD_WORDS[beside.spread]}."
        if beside.tried:
            yield "  Cut the marker first, then lay the cloth open and cut these."
        yield "  The rectangles and strips are what is left besides its pieces."
    else:
        yield f"No place found for {name} ({pieces}). That does not prove that there is none."
    yield from (f"  {line}" for line in beside.piecing)
    for tried in beside.tried:
        yield f"  {SPREAD_WORDS[tried.spread]}: {tried.reason or 'no place found'}"
    if not beside.spread:
        yield "  Search longer with --seconds."


def left_cells(found: Left) -> list[tuple[str, ...]]:
    """The table's headings, then a line for each rectangle, each strip, and each piece of the other job."""
    units, bands = found.units, found.marker.problem.bands
    shrinks, several = found.bought != (1.0, 1.0), len(bands) > 1
    heads = [
        "#",
        "what",
        "length × width",
        *(["as bought"] if shrinks else []),
        "from start",
        "from edge",
        "layers",
        "gives",
    ]
    cells = [tuple([*heads, *(["on"] if several else [])])]
    for what, letter, zones in (("free", "", found.rectangles), ("strip", "S", found.strips)):
        for number, one in enumerate(zones):
            start, end, low, high = one.zone
            band, (along, across) = bands[one.band], found.bought
            size = end - start, high - low
            line = [f"{letter}{number + 1}" if letter else name_of(number), what, _size(size, units)]
            line += [_size((size[0] * along, size[1] * across), units)] if shrinks else []
            edge = f"{format_size(low - band.low + beyond(band, 'low'), units)}, {edge_name(band, 'low')}"
            line += [format_size(start, units), edge, layers_words(one.layers), _gives(found, one)]
            cells.append(tuple([*line, *([band.name] if several else [])]))
    own = {piece.name for piece in found.asked.sets[0][0]}
    for row in marker_rows(found.marker):
        if row.name not in own:
            line = [str(row.number), row.name, row.size(units), *([""] if shrinks else [])]
            line += [row.start(units), row.edge(units), layers_words(row.band.layers), row.gives]
            cells.append(tuple([*line, *([row.band.name] if several else [])]))
    return cells


def name_of(number: int) -> str:
    """The letter of a rectangle, the largest being A."""
    return chr(ord("A") + number)


def _size(size: tuple[float, float], units: Units) -> str:
    """Length and width, neither more than there is."""
    return f"{format_bound(size[0], units).removesuffix(f' {units}')} × {format_bound(size[1], units)}"


def _gives(found: Left, one: Rectangle) -> str:
    """How many a rectangle gives; and to what both layers open at a fold."""
    band, zone = found.marker.problem.bands[one.band], one.zone
    on_low = band.low_edge == "fold" and zone.low - band.low < ON_EDGE
    on_high = band.high_edge == "fold" and band.high - zone.high < ON_EDGE
    if one.layers == 1 or not (on_low or on_high):
        return f"{one.layers}"
    if on_low and on_high:
        return f"{one.layers}, or a tube"
    size = _size((zone.end - zone.start, 2 * (zone.high - zone.low)), found.units)
    return f"{one.layers}, or 1 of {size} on fold"


def layers_words(layers: int) -> str:
    """Of how many layers something is cut at once."""
    return {1: "one", 2: "both"}.get(layers, f"all {layers}")


def left_table(found: Left) -> Table:
    """The same as a table."""
    return cells_table("What can be cut besides the marker", left_cells(found))
