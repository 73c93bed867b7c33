"""Outlines as CSV, a corner a row, in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.export.words import csv_text
from reports.plan.plain import layout_to_plain

if TYPE_CHECKING:
    from nesting.marker.marker import Marker
    from pieces import PieceSet

CORNER = ("x (mm)", "y (mm)")

PLACED = ("piece", "copy", "yields", "band", "turn", "mirrored", "on_fold")
"""What is said of a placement, under the names it has in the marker's JSON."""


def pieces_csv(pieces: PieceSet) -> str:
    """The cut line of every piece, in its own frame: x along the grain; of a piece on the fold that of its half."""
    corners = ((piece.name, *corner) for piece in pieces for corner in piece.cut_line.tolist())
    return csv_text([("piece", *CORNER), *corners])


def marker_csv(marker: Marker) -> str:
    """The outline of every placement, in its place: x along the cloth from the start, y across it."""
    rows = (
        (*(placed[key] for key in PLACED), *corner)
        for placed in layout_to_plain(marker)["placements"]
        for corner in placed["outline"]
    )
    return csv_text([(*PLACED, *CORNER), *rows])
