"""The marker of a lay at full scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.piece.notched import USUAL_CUT, NotchCut
from reports.paper.order import print_laid
from reports.run.tickets import count_plies

if TYPE_CHECKING:
    from pathlib import Path

    from reports.ask.order.order import Order
    from reports.paper.book import Printed
    from reports.paper.size import Paper
    from reports.run.lay_marker import LayMarker


def print_lay(lay: LayMarker, order: Order, path: Path, paper: Paper | None, notches: NotchCut = USUAL_CUT) -> Printed:
    """Print the marker of a run's lay, each size with its own kind of line and its own layer.

    `paper` is None for a roll as wide as the cloth.
    """
    each = ", ".join(f"{number} × {key}" for key, number in lay.plies.items())
    told = f"Lay {lay.ticket}: {count_plies(lay.number)}, {each}. Every ply is cut with this marker."
    title = f"{order.title}: {lay.lay.title}"
    return print_laid(path, paper, lay, title, order.written_in, (told,), lay.size_of, notches)
