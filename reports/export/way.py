"""How files are written, where there is a choice."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from pieces.piece.notched import NotchCut

if TYPE_CHECKING:
    from reports.ask.choices import CurveShape


@dataclass(frozen=True)
class FileWay:
    """How notches are cut, and whether curves in DXF are polylines of short chords or splines."""

    notches: NotchCut = field(default_factory=NotchCut)
    curves: CurveShape = "polylines"


USUAL_WAY = FileWay()
