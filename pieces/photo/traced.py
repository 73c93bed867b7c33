"""What was traced in photos: pieces with their marks, how sure they are, and lengths to hold against a tape."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil
from typing import TYPE_CHECKING, Any, get_args

import numpy as np

from pieces.photo.fitted import RunKind
from pieces.photo.lines import chord
from pieces.photo.together import joined_names

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.photo.fitted import FittedOutline
    from pieces.photo.mark import PaperMark
    from pieces.photo.paper import TableView

    Floats = NDArray[np.float64]

LEAST_MEASURED = 60.0
"""A shorter side is of no use for checking, mm."""


@dataclass(frozen=True, eq=False)
class TracedPiece:
    """A piece in a photo: its outline, how far off it may be, mm, at its worst point and at most points; its marks."""

    name: str
    outline: FittedOutline
    worst: float
    usual: float
    marks: tuple[PaperMark, ...] = ()

    @property
    def words(self) -> str:
        """How sure it is."""
        counted = ", ".join(f"{many} {kind}{'s' * (many > 1)}" for kind, many in self.counted().items() if many)
        return (
            f"'{self.name}': its outline may be {self.usual:.1f} mm off, {self.worst:.1f} mm at the worst point;"
            f" {counted}, at most {self.outline.off:.2f} mm off the edge that is seen"
        )

    def counted(self) -> dict[str, int]:
        """How many lines, arcs and curves it is made of."""
        return {kind: sum(run.kind == kind for run in self.outline.runs) for kind in get_args(RunKind)}

    def measured(self) -> list[tuple[str, Floats, float]]:
        """Lengths to hold against a tape: of what, its two ends, and mm."""
        ends = np.array([run.points[0] for run in self.outline.runs])
        across = np.hypot(*(ends[:, None] - ends[None]).transpose(2, 0, 1))
        a, b = np.unravel_index(int(across.argmax()), across.shape)
        sides = [run.points[[0, -1]] for run in self.outline.runs if run.kind == "line"]
        sides = sorted((side for side in sides if chord(side) >= LEAST_MEASURED), key=chord, reverse=True)
        named = list(zip(("longest straight side", "second longest straight side"), sides, strict=False))
        named.append(("from corner to corner, where they are furthest apart", ends[[a, b]]))
        return [(what, line, chord(line)) for what, line in named]

    def to_plain(self) -> dict[str, Any]:
        """How sure it is, for machines."""
        return {
            "piece": self.name,
            "usual_mm": self.usual,
            "worst_mm": self.worst,
            "fitted_mm": self.outline.off,
            "sides": self.counted(),
            "measured": [{"what": what, "mm": mm} for what, _, mm in self.measured()],
            "marks": [mark.to_plain() for mark in self.marks],
        }


@dataclass(frozen=True)
class PhotoFit:
    """How well one photo fits what it is measured by, and the others of the same table.

    Parameters
    ----------
    sheets
        Letters of the reference sheets in it.
    tilt
        How far the camera looks off straight down, degrees.
    missed_px, missed_mm
        By how much the corners or edges that it is measured by are missed, root mean square.
    edge_mm, overlap_mm
        How far edges in it lie off those that were traced in other photos, at most points; and on how much of the
        edge that both show. None and 0 where no other photo shows them.
    """

    file: str
    sheets: tuple[str, ...]
    tilt: float
    missed_px: float
    missed_mm: float
    edge_mm: float | None = None
    overlap_mm: float = 0.0

    @property
    def words(self) -> str:
        """How well it fits."""
        by = f"sheet{'s' * (len(self.sheets) > 1)} {' and '.join(self.sheets)}" if self.sheets else "what it shows"
        said = (
            f"{self.file}: measured by {by}, missed by {_up(self.missed_mm):.2f} mm; taken {self.tilt:.0f} degrees off"
            " straight down"
        )
        if self.edge_mm is None:
            return said
        off = f"{_up(self.edge_mm):.2f} mm off"
        return f"{said}; on {self.overlap_mm:.0f} mm of edge that another photo shows it is {off}"

    def to_plain(self) -> dict[str, Any]:
        """The same for machines."""
        return {
            "file": self.file,
            "sheets": list(self.sheets),
            "tilt_degrees": self.tilt,
            "missed_px": self.missed_px,
            "missed_mm": self.missed_mm,
            "edge_mm": self.edge_mm,
            "overlap_mm": self.overlap_mm,
        }


@dataclass(frozen=True, eq=False)
class TracedPhoto:
    """What was read from a photo, or from several of one piece.

    Parameters
    ----------
    fits
        How well each of the photos fits.
    view
        The table from straight above.
    cut_off
        How many things run out of the picture.
    """

    fits: tuple[PhotoFit, ...]
    view: TableView
    pieces: tuple[TracedPiece, ...]
    cut_off: int = 0

    @property
    def name(self) -> str:
        """What it is called in words."""
        return joined_names([fit.file for fit in self.fits])

    def to_plain(self) -> dict[str, Any]:
        """The photos and what was traced in them, for machines."""
        return {
            "files": [fit.to_plain() for fit in self.fits],
            "pieces": [piece.to_plain() for piece in self.pieces],
        }


def _up(mm: float) -> float:
    """An error in hundredths of a mm, never less than it is."""
    return max(1, ceil(100 * mm)) / 100
