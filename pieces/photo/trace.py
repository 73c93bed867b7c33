"""Photos of paper patterns, each beside the reference sheet, made into sketches as the importer takes them."""

from __future__ import annotations

import gc
from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING, Any, get_args

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.imported import ImportReport
from pieces.exchange.sketch.sketch import Sketch, entered
from pieces.photo.board import reference_board
from pieces.photo.edge import sharp_outline
from pieces.photo.fitted import RunKind, fit_outline
from pieces.photo.paper import rough_outlines, seen_from_above
from pieces.photo.picture import read_photo
from pieces.photo.sheet import find_sheet

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from pieces.photo.camera import Camera
    from pieces.photo.fitted import FittedOutline
    from pieces.photo.paper import TableView

TOLERANCE = 0.3
"""How far a side may lie off the points it stands for unless asked otherwise, mm."""

LEAST_TOLERANCE, MOST_TOLERANCE = 0.1, 5.0

MOST_ERROR = 4.0
"""A piece that is known no better than this is not taken, mm: common practice, no source."""

CORNER = 3.0
"""By how much a corner may come out rounded, pixels: as `benchmarks/photos.py` shows."""

MOST_PHOTOS = 50

BETWEEN = 50.0
"""Between what was seen in one photo and in the next, in the frame of the sketches, mm."""

SCALES = (0.8, 1.25)
"""A sheet that was printed smaller or larger than this is not the one that was meant."""


@dataclass(frozen=True)
class TraceChoices:
    """How photos are to be read.

    Parameters
    ----------
    line
        How long the sheet's line is by a ruler, mm.
    tolerance
        How far fitted sides may lie off the edge that is seen, mm.
    folds
        Which side of a piece lies on a fold, by the piece's number: ``"left"`` or ``"right"``.
    """

    line: float = reference_board().line
    tolerance: float = TOLERANCE
    folds: Mapping[int, str] | None = None

    def __post_init__(self) -> None:
        if not LEAST_TOLERANCE <= self.tolerance <= MOST_TOLERANCE:
            raise FormatError(
                f"--tolerance: {LEAST_TOLERANCE:g} to {MOST_TOLERANCE:g} mm are allowed, not {self.tolerance:g} mm"
            )
        if not SCALES[0] <= self.scale <= SCALES[1]:
            raise FormatError(
                f"--line: the sheet's line is {reference_board().line:g} mm long, and {self.line:g} mm were given:"
                " print the sheet again at 100 %"
            )

    @property
    def scale(self) -> float:
        """How much larger the sheet was printed than it should be."""
        return self.line / reference_board().line


@dataclass(frozen=True, eq=False)
class TracedPiece:
    """A piece in a photo: its outline, and how far off it may be, mm, at its worst point and at most points."""

    name: str
    outline: FittedOutline
    worst: float
    usual: float

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

    def to_plain(self) -> dict[str, Any]:
        """How sure it is, for machines."""
        return {
            "piece": self.name,
            "usual_mm": self.usual,
            "worst_mm": self.worst,
            "fitted_mm": self.outline.off,
            "sides": self.counted(),
        }


@dataclass(frozen=True, eq=False)
class TracedPhoto:
    """What was read from a photo."""

    file: str
    camera: Camera
    view: TableView
    pieces: tuple[TracedPiece, ...]
    cut_off: int

    def to_plain(self) -> dict[str, Any]:
        """The photo and what was traced in it, for machines."""
        return {
            "file": self.file,
            "tilt_degrees": self.camera.tilt,
            "missed_px": self.camera.rms,
            "pieces": [piece.to_plain() for piece in self.pieces],
        }


def trace_photos(
    paths: Sequence[Path], asked: TraceChoices | None = None
) -> tuple[list[Sketch], ImportReport, list[TracedPhoto]]:
    """The pieces in photos, numbered through.

    Raises
    ------
    FormatError
        If a photo cannot be measured, or shows no whole piece: what to do about it.
    """
    asked = asked or TraceChoices()
    need_opencv()
    if len(paths) > MOST_PHOTOS:
        raise FormatError(f"{len(paths)} photos: at most {MOST_PHOTOS} are read at once")
    report = ImportReport(
        "photos of paper patterns", f"mm, by the reference sheet, whose line measures {asked.line:g} mm"
    )
    photos: list[TracedPhoto] = []
    for path in paths:
        photos.append(_traced(path, asked, sum(len(photo.pieces) for photo in photos)))
        gc.collect()  # a photo takes much room
    report.remarks.append("the x axis is the long side of the reference sheet, from its top to its words")
    sketches = _sketches(photos, report)
    report.account.expect(len(sketches))
    for number, side in (asked.folds or {}).items():
        if not 1 <= number <= len(sketches):
            raise FormatError(f"--fold {number}={side}: there are pieces 1 to {len(sketches)}")
        sketches[number - 1].side = side
    return [entered(sketch, report) for sketch in sketches], report, photos


def need_opencv() -> None:
    """Raise FormatError if OpenCV, which reads photos, is not installed."""
    from importlib.util import find_spec

    if find_spec("cv2") is None:
        raise FormatError("photos need OpenCV, which is not installed: run pip install opencv-python-headless")


def _traced(path: Path, asked: TraceChoices, before: int) -> TracedPhoto:
    import cv2
    import shapely

    photo = read_photo(path)
    grey = np.asarray(cv2.cvtColor(photo, cv2.COLOR_BGR2GRAY), dtype=np.uint8)
    camera = find_sheet(grey, path.name, asked.scale)
    del grey
    view = seen_from_above(photo, camera)
    rough, cut_off = rough_outlines(view, path.name)
    if not rough:
        raise FormatError(
            f"{path.name}: the pattern runs out of the picture: step back or turn the camera until all of it is seen,"
            " with some table round it; parts of a piece in several photos are not joined"
        )
    pieces: list[TracedPiece] = []
    for outline in rough:
        name = f"piece {before + len(pieces) + 1}"
        fitted = fit_outline(sharp_outline(outline, photo, camera), asked.tolerance)
        if not shapely.LinearRing(fitted.points).is_simple:
            raise FormatError(
                f"{path.name}: the edge of '{name}' is not clear: lay the pattern flat on a plain table of another"
                " colour, out of shadow"
            )
        blunt = CORNER / camera.fineness(fitted.points)
        doubt = np.sqrt(camera.doubt(fitted.points) ** 2 + fitted.off**2 + blunt**2)
        traced = TracedPiece(name, fitted, float(doubt.max()), float(np.median(doubt)))
        if traced.worst > MOST_ERROR:
            raise FormatError(
                f"{path.name}: '{name}' may be {traced.worst:.1f} mm off, at most {MOST_ERROR:g} mm is allowed: lay the"
                " sheet flat beside the middle of the piece, go nearer, and hold the camera level"
            )
        pieces.append(traced)
    return TracedPhoto(path.name, camera, view, tuple(pieces), cut_off)


def _sketches(photos: Sequence[TracedPhoto], report: ImportReport) -> list[Sketch]:
    """A sketch of each piece, side by side, and what is to be known of them."""
    sketches: list[Sketch] = []
    free = 0.0
    for photo in photos:
        shift = np.array([0.0, free - min(float(piece.outline.points[:, 1].min()) for piece in photo.pieces)])
        if photo.cut_off:
            things = "something runs" if photo.cut_off == 1 else f"{photo.cut_off} things run"
            report.leave(f"{photo.file}: {things} out of the picture", "only what is seen whole is traced")
        for piece in photo.pieces:
            report.remarks.append(piece.words)
            long = [
                hypot(*(run.points[-1] - run.points[0]).tolist()) for run in piece.outline.runs if run.kind == "line"
            ]
            if long:
                report.remarks.append(
                    f"'{piece.name}': its longest straight side is {max(long):.0f} mm: measure it with a tape"
                )
            sketches.append(Sketch(piece.name, piece.outline.points + shift))
        free = BETWEEN + max(float(sketch.outline[:, 1].max()) for sketch in sketches)
    return sketches
