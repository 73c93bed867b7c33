"""Trims as shops sell them: zips by their lengths, buttons by their spacing, thread by the spool."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from math import ceil, floor
from typing import TYPE_CHECKING, Any

from pieces.data import toml_data
from pieces.errors import FormatError
from pieces.trims.trim import TrimNeeded
from pieces.units import INCH

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces.trims.sewn import Sewn, Stitch
    from pieces.trims.trim import TrimName

SLACK = 0.5
"""A zip may be shorter than its edge by so much, mm: a tape shows no less."""

THREADS: dict[Stitch, TrimName] = {"lockstitch": "thread", "overlock": "overlock thread"}


@cache
def stock() -> dict[str, Any]:
    """The table of what shops sell and how much is used; it says what each figure rests on."""
    text = (files("pieces") / "tables" / "trims.toml").read_text(encoding="utf-8")
    return toml_data(text, "trims.toml", FormatError)


def zip_for(edge: float, where: tuple[str, ...], name: TrimName = "separating zip") -> TrimNeeded:
    """The zip for an edge, mm: the next length sold, or one made to length; a closed one is called ``"zip"``."""
    table = stock()[name.replace(" ", "_")]
    lengths = [inches * INCH for inches in table["inches"]]
    fits = next((length for length in lengths if length >= edge - SLACK), None)
    step = table["step_inches"] * INCH
    sold = ceil((edge - SLACK) / step) * step if fits is None else fits
    return TrimNeeded(name, where, count=1, needed=edge, sold=sold, usual=fits is not None)


def buttons_for(edge: float, where: tuple[str, ...]) -> TrimNeeded:
    """Buttons or snaps along an edge, mm: evenly, the first and the last near its ends."""
    table = stock()["buttons"]
    between = max(0.0, edge - 2 * table["from_end_inches"] * INCH)
    gaps = max(1, ceil(between / (table["spacing_inches"] * INCH) - 1e-9))
    return TrimNeeded("buttons or snaps", where, count=gaps + 1, needed=edge, spacing=between / gaps)


def elastic_for(needed: float, depth: float, where: tuple[str, ...]) -> TrimNeeded:
    """Elastic for bands of a finished depth, mm: the widest sold that lies in them, and by the length as it lies."""
    table = stock()["elastic"]
    room = depth - table["less_inches"] * INCH
    widths = [inches * INCH for inches in table["inches"] if inches * INCH <= room + SLACK]
    width = max(widths, default=table["inches"][0] * INCH)
    more = len(where) * table["join_inches"] * INCH
    return TrimNeeded("elastic", where, needed=needed + more, sold=table["step_inches"] * INCH, width=width)


def cord_for(needed: float, where: tuple[str, ...]) -> TrimNeeded:
    """Cord or tape, mm, with its ends, by the step in which shops cut it."""
    table = stock()["cord"]
    length = needed + 2 * table["end_inches"] * INCH
    return TrimNeeded("cord", where, needed=length, sold=table["step_inches"] * INCH)


def thread_for(seams: Iterable[Sewn]) -> list[TrimNeeded]:
    """Thread for all that is sewn, a trim for each kind of stitch."""
    table, sewn = stock(), list(seams)
    found = []
    for stitch, name in THREADS.items():
        own = [seam for seam in sewn if stitch in seam.stitches]
        ratio = table["stitch"][stitch]
        needed = sum(seam.length * (ratio["two_layers"] + ratio["each_more"] * (seam.layers - 2)) for seam in own)
        needed *= 1 + table["spool"]["spare_percent"] / 100
        if own:
            where = tuple(dict.fromkeys(seam.name for seam in own))
            sold = 1000.0 * table["spool"]["metres"]
            found.append(TrimNeeded(name, where, needed=floor(needed + 0.5), sold=sold, at_once=ratio["spools"]))
    return found
