"""How much at another width: the answer in words and for machines."""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING, Any

from pieces.units import INCH, SHORT, YARD, Units, format_cloth, format_exact, format_fraction
from reports.convert.published import NEAR

if TYPE_CHECKING:
    from collections.abc import Iterator

    from reports.convert.conversion import Conversion, TableTold
    from reports.convert.published import WidthColumn

CONVERT_SCHEMA = 1

ADDED = YARD / 4
"""What the conversion chart adds for each of the cases it names."""


def conversion_to_plain(found: Conversion, units: Units) -> dict[str, Any]:
    """The answer for machines; every length in mm."""
    return {
        "schema": CONVERT_SCHEMA,
        "units": units,
        "unit": "mm",
        "length": found.length,
        "width": found.width,
        "other_width": found.other,
        "least": found.least if found.told else None,
        "most": found.most if found.told else None,
        "by_area": found.by_area,
        "tables": [
            {
                "name": one.table.name,
                "source": one.table.source,
                "least": one.least,
                "most": one.most,
                "row": one.row,
                "between_columns": one.is_between,
            }
            for one in found.told
        ],
        "words": list(conversion_lines(found, units)),
    }


def conversion_lines(found: Conversion, units: Units) -> Iterator[str]:
    """The range, where it is from, and what it does not say."""
    asked = f"{_given(found.length, units)} on cloth {_width(found.width, units)} wide"
    there = f"cloth {_width(found.other, units)} wide"
    area = f"The area alone says {_rounded_down(found.by_area, units)} or more"
    if found.told:
        yield f"{asked} is {_range(found.least, found.most, units)} on {there}."
        for one in found.told:
            yield from (f"  {line}" for line in _told_lines(one, found, units))
        yield f"  {area}. Selvedges are not taken off."
        yield (
            f"  The chart adds {format_cloth(ADDED, units)} for a large jump in width, for one-way cloth, and for"
            " sleeves cut in one with the body."
        )
    else:
        yield f"No published table has both widths: {asked} cannot be told of {there}."
        yield f"  {area}: a lower figure, not a length to buy."
    if found.other < found.width:
        yield "  A piece may not fit across the narrower cloth. No length makes up for that."
    basis = "what other garments took" if found.told else "an area"
    yield f"  This is {basis}, not a proof. For a proof, lay the pieces of a job: 'ellwand widths JOB'."
    for one in found.told:
        yield f"Source: {one.table.source}."


def _told_lines(one: TableTold, found: Conversion, units: Units) -> Iterator[str]:
    said = f"The {one.table.name}, {one.table.of}: {_range(one.least, one.most, units)}"
    if one.row is not None:
        said += f"; its own garment of {_given(found.length, units)} takes {format_cloth(one.row, units)}"
    yield f"{said}."
    for width, (narrower, wider) in zip((found.width, found.other), one.columns, strict=True):
        if narrower is not wider:
            yield (
                f"{_width(width, units)} lies between its columns of {_column(narrower, units)} and"
                f" {_column(wider, units)}: the range takes in both."
            )
        elif narrower.off(width) > NEAR:
            yield f"{_width(width, units)} is taken as its column of {_column(narrower, units)}."


def _range(least: float, most: float, units: Units) -> str:
    """From so much, rounded down, to so much, rounded up."""
    low, high = _rounded_down(least, units), format_cloth(most, units)
    return high if low == high else f"{low.rsplit(' ', 1)[0]} to {high}"


def _rounded_down(mm: float, units: Units) -> str:
    step = YARD / 8 if units is Units.INCHES else 50.0
    return format_cloth(floor((mm + SHORT) / step) * step, units)


def _given(mm: float, units: Units) -> str:
    """A length of cloth as it was given: yards in eighths, or metres; to the thousandth where it is neither."""
    number = mm / (YARD if units is Units.INCHES else 1000.0)
    if units is Units.INCHES and abs(number * 8 - round(number * 8)) < 1e-6:
        return f"{format_fraction(number)} yd"
    return f"{round(number, 3):.10g} {'yd' if units is Units.INCHES else 'm'}"


def _width(mm: float, units: Units) -> str:
    return format_exact(mm, units)


def _column(column: WidthColumn, units: Units) -> str:
    if column.low == column.high:
        return _width(column.low, units)
    if units is Units.INCHES:
        return f"{column.low / INCH:g}-{column.high / INCH:g} in"
    return f"{column.low / 10:.1f}-{column.high / 10:.1f} cm"
