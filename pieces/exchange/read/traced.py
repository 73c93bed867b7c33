"""Pieces measured with a ruler and typed: corner by corner, and curves by their bulge or by a point on the way.

::

    units = "in"                 # what bare numbers count

    [[piece]]
    name = "pocket"
    cut = 2
    allowance = "3/8"            # added all round; leave it out if what was measured is the cut line
    points = '''
    0, 0
    6, 0
    6, 7 1/2
    0, 7 1/2   bulge 1/2         # the way here rises 1/2 in outwards above the straight line; -1/2 is a hollow
    '''

Instead of a bulge, ``by 3, 8`` names a point that the curve passes on the way. The first point's curve is the last
side's. Angles and lengths in between need not be measured. Other keys are those of the small file beside imported
pieces: ``material``, ``pair``, ``fold``, ``grain``, ``label``.
"""

from __future__ import annotations

import re
from itertools import pairwise
from typing import TYPE_CHECKING, Any, NamedTuple, get_args

import numpy as np

from pieces.data import toml_data
from pieces.errors import FormatError, LengthError, unknown_key
from pieces.exchange.imported import ImportReport, ReadingChoices, Unit, number, told_unit
from pieces.exchange.mend.arc import arc_by_height, height_of
from pieces.exchange.own.sidecar import FACTS, Sidecar
from pieces.exchange.sketch.naming import take_words
from pieces.exchange.sketch.sketch import Sketch, entered, printable_name
from pieces.exchange.source import read_source

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

MOST_PIECES, MOST_POINTS = 1000, 2000

_LINE = re.compile(r"(?P<x>[^,]+),(?P<y>[^,]+?)(?:\s+(?:bulge\s+(?P<bulge>[^,]+)|by\s+(?P<bx>[^,]+),(?P<by>[^,]+)))?")


class Corner(NamedTuple):
    """A measured point, mm, and how the way from the one before runs there: by its bulge outwards, or by a point."""

    x: float
    y: float
    bulge: float = 0.0
    by: Point | None = None


def sketch_traced(path: Path, asked: ReadingChoices) -> tuple[list[Sketch], ImportReport]:
    """The pieces of a file of measured points.

    Raises
    ------
    FormatError
        If it is no TOML, a key is unknown, or a point cannot be read: it names the piece and the point.
    """
    data = toml_data(read_source(path, "toml"), path.name, FormatError)
    unit = asked.units or data.get("units")
    if unit is not None and unit not in get_args(Unit):
        raise FormatError(f"{path.name}: units: {unit!r} is not one of {', '.join(get_args(Unit))}")
    if unit == "px":
        raise FormatError(f"{path.name}: points measured with a ruler cannot be in pixels: choose another unit")
    for key in data:
        if key not in ("units", "piece"):
            raise FormatError(f"{path.name}: {unknown_key(key, ['units', 'piece'])}")
    entries = data.get("piece")
    if (
        not isinstance(entries, list)
        or not 1 <= len(entries) <= MOST_PIECES
        or not all(isinstance(e, dict) for e in entries)
    ):
        raise FormatError(f"{path.name} needs 1 to {MOST_PIECES} entries [[piece]], each with a name and points")
    how = told_unit(unit, "as it says", asked.units, data.get("units"))
    report = ImportReport("points measured with a ruler", how)
    report.account.expect(len(entries))
    sketches, facts = [], {}
    for n, entry in enumerate(entries, 1):
        name = printable_name(str(entry.get("name", "")), f"piece {n}")
        if name in facts:
            raise FormatError(f"{path.name}: two pieces are called '{name}': give each its own name")
        for key in entry:
            if key not in (*FACTS, "name", "points"):
                raise FormatError(f"{path.name}: '{name}': {unknown_key(key, ['name', 'points', *FACTS])}")
        outline = drawn(_corners(entry.get("points"), unit, f"{path.name}: '{name}'"))
        sketch = entered(Sketch(name, outline), report)
        take_words(sketch, [name], report)  # before the keys, which have the last word
        sketches.append(sketch)
        facts[name] = {key: value for key, value in entry.items() if key in FACTS}
    _keep_pieces(sketches, facts, asked, report)
    return Sidecar(path.name, facts, unit).applied(sketches, report), report


def _keep_pieces(
    sketches: Sequence[Sketch], facts: Mapping[str, dict[str, Any]], asked: ReadingChoices, report: ImportReport
) -> None:
    """What the file leaves out, and a person says is a piece, is one."""
    told = {n for one in asked.lines if one.role == "piece" for n in one.found(report.account.entries)}
    for sketch in sketches:
        numbers = {number for _, those in sketch.taken for number in those}
        if facts[sketch.name].get("leave_out") is True and numbers & told:
            del facts[sketch.name]["leave_out"]
            report.remarks.append(f"'{sketch.name}': the file leaves it out, and you said that it is a piece")


def _corners(points: Any, unit: Unit | None, where: str) -> list[Corner]:
    """The points of a piece: a line each."""
    if not isinstance(points, str):
        raise FormatError(f"{where} needs points, one per line in triple quotes, such as 6, 7 1/2")
    lines = [line.partition("#")[0].strip() for line in points.splitlines()]
    lines = [line for line in lines if line]
    if not 2 <= len(lines) <= MOST_POINTS:
        raise FormatError(
            f"{where} has {len(lines)} points: an outline needs 3 or more, or 2 with a curve, and at most {MOST_POINTS}"
        )
    corners = []
    for line in lines:
        found = _LINE.fullmatch(line[:200])
        if found is None:
            raise FormatError(f"{where}: cannot read the point '{line[:40]}': write x, y, then bulge h, or by x, y")
        try:
            x, y, bulge, bx, by = (number(text, unit) if text else None for text in found.groups())
        except (LengthError, OverflowError) as error:
            raise FormatError(f"{where}: {error}" + ("" if unit else '; or set units = "in" once')) from error
        assert x is not None and y is not None
        corners.append(Corner(x, y, bulge or 0.0, (bx, by) if bx is not None and by is not None else None))
    return corners


def drawn(corners: Sequence[Corner]) -> Floats:
    """The outline through measured points, its curves as short lines."""
    ends = [(corner.x, corner.y) for corner in corners]
    area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairwise([*ends, ends[0]]))
    outwards = -1.0 if area < 0 else 1.0  # to the right of the way, where it runs counter-clockwise
    points: list[Point] = []
    for before, corner, end in zip([ends[-1], *ends], corners, ends, strict=False):
        height = height_of(before, corner.by, end) if corner.by else corner.bulge * outwards
        points += arc_by_height(before, end, height)[1:].tolist() if height else [end]
    return np.array(points, dtype=np.float64)
