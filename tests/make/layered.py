"""A drawing of several layers that say nothing: what a person must decide, and what a legend learns of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.exchange.imported import ReadingChoices
from pieces.exchange.own.sidecar import Sidecar, sidecar_of
from pieces.exchange.read.reader import import_pieces

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.decided.legend import LineLegend
    from pieces.exchange.imported import Imported

OUTER, RED, BLUE, GREY = "outer", "red", "blue", "grey"

LAYERED = """<?xml version="1.0"?>
<!-- Generator: Drawing Desk 12.4, export -->
<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="700mm" viewBox="0 0 900 700">
<g id="outer" fill="none" stroke="#000"><path d="M20 20H320V420H20Z"/><path d="M360 20H560V300H360Z"/></g>
<g id="red" fill="none" stroke="red" stroke-dasharray="6 3"><path d="M30 30H310V410H30Z"/>
<path d="M370 30H550V290H370Z"/></g>
<g id="blue" fill="none" stroke="#00f"><path d="M170 60V360"/><path d="M460 60V260"/></g>
<g id="grey" fill="none" stroke="#888"><path d="M600 20H650V70H600Z"/><path d="M600 200H800V640H600Z"/></g>
</svg>"""
"""Numbers 1 and 2 are cut lines, 3 and 4 sew lines, 5 and 6 grainlines, 7 a test square, and 8 is not wanted."""

DECIDED = {1: "piece", 2: "piece", 3: "sew line", 4: "sew line", 5: "grain", 6: "grain", 7: "frame", 8: "left out"}


def told(roles: dict[int, str]) -> Sidecar:
    """The small file that says what lines are."""
    return sidecar_of({"line": [{"numbers": [number], "role": role} for number, role in roles.items()]}, "told")


def read(
    folder: Path,
    text: str = LAYERED,
    sidecar: Sidecar | None = None,
    legend: LineLegend | None = None,
    name: str = "a.svg",
) -> Imported:
    """Read a drawing."""
    (folder / name).write_text(text, encoding="utf-8")
    return import_pieces(folder / name, ReadingChoices(legends=(legend,) if legend else ()), sidecar)
