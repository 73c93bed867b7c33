"""Photos of paper patterns, each beside the reference sheet, made into sketches as the importer takes them."""

from __future__ import annotations

import gc
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from pieces.errors import FormatError
from pieces.exchange.imported import ImportReport
from pieces.photo.bare import TRUE_TO, find_bare_sheet
from pieces.photo.board import reference_board
from pieces.photo.cuts import bridged, cuts_at
from pieces.photo.edge import faint_length, sharp_outline
from pieces.photo.fits import photo_fits, require_still
from pieces.photo.fitted import fit_outline
from pieces.photo.flat import is_parted, paper_view
from pieces.photo.look import SeenPhoto, doubt_at, fineness_at
from pieces.photo.marks import marks_of
from pieces.photo.mat import LINE, SQUARES, find_mat
from pieces.photo.mat import TRUE_TO as MAT_TRUE_TO
from pieces.photo.paper import rough_outlines, seen_from_above
from pieces.photo.picture import read_photo
from pieces.photo.sheet import find_sheets
from pieces.photo.sketched import sketches_of
from pieces.photo.strokes import strokes_on
from pieces.photo.together import JoinedTable, SeenTable, evened, join_tables, joined_names
from pieces.photo.traced import TracedPhoto, TracedPiece

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.exchange.sketch.sketch import Sketch

    Floats = NDArray[np.float64]

TOLERANCE = 0.3
"""How far a side may lie off the points it stands for unless asked otherwise, mm."""

LEAST_TOLERANCE, MOST_TOLERANCE = 0.1, 5.0

MOST_ERROR = 3.5
"""A piece that is known no better than this is not taken, mm: beyond it a rendered photo with a strongly bent lens came
out further off than was told (`benchmarks/photos.py`, case 320)."""

MOST_ERROR_BARE = 4.5
"""The same by a bare sheet or a mat, which say less: their own size is doubted (`benchmarks/photos.py --bare`), mm."""

CORNER = 3.0
"""By how much a corner may come out rounded, pixels: as `benchmarks/photos.py` shows."""

MOST_PHOTOS = 50

MOST_FAINT = 18.0
"""An outline that is hardly an edge along more, mm, is none: the pattern runs on there, or out of the picture."""

MOST_TOGETHER = 8
"""Photos of one piece: all of them are held in memory at once."""

BARE = (100.0, 450.0)
"""Sides of a bare sheet, mm: a smaller one says too little."""

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
    grain
        Where the grain runs, degrees from the long side of the sheet; None for as it is drawn, or else along it.
    one_piece
        Whether all photos show parts of one table, to be joined over the sheets that they share.
    bare
        Sides of the bare sheet of paper that photos are measured by, mm; None for the reference sheet.
    mat
        Side of the squares of the cutting mat that photos are measured by, mm.
    """

    line: float = reference_board().line
    tolerance: float = TOLERANCE
    folds: Mapping[int, str] | None = None
    grain: float | None = None
    one_piece: bool = False
    bare: tuple[float, float] | None = None
    mat: float | None = None

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

        if self.bare is not None and self.mat is not None:
            raise FormatError("--sheet and --mat: photos are measured by one of them: leave out the other")
        if (self.bare or self.mat) and (self.one_piece or self.line != reference_board().line):
            raise FormatError("--one-piece and --line go with the reference sheet: leave out --sheet and --mat")
        if self.bare is not None and not BARE[0] <= min(self.bare) <= max(self.bare) <= BARE[1]:
            raise FormatError(f"--sheet: sides of {BARE[0]:g} to {BARE[1]:g} mm are measured by: use A4 or letter")
        if self.mat is not None and not SQUARES[0] <= self.mat <= SQUARES[1]:
            raise FormatError(
                f"--mat: squares of {SQUARES[0]:g} to {SQUARES[1]:g} mm are found, not of {self.mat:g} mm: give the"
                " side of the smallest squares that are printed on it"
            )

    @property
    def measure(self) -> str:
        """What photos are measured by."""
        if self.bare is not None:
            return f"a sheet of {max(self.bare):g} by {min(self.bare):g} mm, taken to be true to {TRUE_TO:g} mm"
        if self.mat is not None:
            return f"the squares of a cutting mat, {self.mat:g} mm, taken to be true to {100 * MAT_TRUE_TO:g} %"
        return f"the reference sheet, whose line measures {self.line:g} mm"

    @property
    def axis(self) -> str:
        """What the grain runs along, where it is not drawn."""
        if self.bare is not None:
            return "the x axis is the long side of the sheet, down the picture"
        if self.mat is not None:
            return "the x axis runs along the lines of the mat, down the picture"
        return "the x axis is the long side of the reference sheet, from its top to its words"

    @property
    def scale(self) -> float:
        """How much larger the sheet was printed than it should be."""
        return self.line / reference_board().line


class TraceStep(NamedTuple):
    """What is done now, and how many steps of how many are done."""

    done: int
    of: int
    words: str


def trace_photos(
    paths: Sequence[Path], asked: TraceChoices | None = None, tell: Callable[[TraceStep], None] = lambda step: None
) -> tuple[list[Sketch], ImportReport, list[TracedPhoto]]:
    """The pieces in photos, numbered through.

    Parameters
    ----------
    tell
        Is told of each step as it begins.

    Raises
    ------
    FormatError
        If a photo cannot be measured, or shows no whole piece: what to do about it.
    """
    asked = asked or TraceChoices()
    need_opencv()
    if not 1 <= len(paths) <= MOST_PHOTOS:
        raise FormatError(f"{len(paths)} photos: at most {MOST_PHOTOS} are read at once")
    report = ImportReport("photos of paper patterns", f"mm, by {asked.measure}")
    photos: list[TracedPhoto] = []
    if asked.one_piece:
        photos.append(_joined(paths, asked, tell))
    for n, path in enumerate(() if asked.one_piece else paths):
        tell(TraceStep(n, len(paths), f"Tracing what is in {path.name}"))
        photos.append(_traced(path, asked, sum(len(photo.pieces) for photo in photos)))
        gc.collect()  # a photo takes much room
    many = sum(len(photo.pieces) for photo in photos)
    folds = dict(asked.folds or {})
    for number, side in folds.items():
        if not 1 <= number <= many:
            raise FormatError(f"--fold {number}={side}: there are pieces 1 to {many}")
    report.remarks.append(asked.axis)
    sketches = sketches_of(photos, report, folds, is_turned=asked.grain is not None)
    for sketch in sketches:
        sketch.turn = sketch.turn if asked.grain is None else asked.grain
    report.account.expect(len(sketches))
    return sketches, report, photos


def need_opencv() -> None:
    """Raise FormatError if OpenCV, which reads photos, is not installed."""
    from importlib.util import find_spec

    if find_spec("cv2") is None:
        raise FormatError("photos need OpenCV, which is not installed: run pip install opencv-python-headless")


def _traced(path: Path, asked: TraceChoices, before: int) -> TracedPhoto:
    import cv2

    photo = read_photo(path)
    grey = np.asarray(cv2.cvtColor(photo, cv2.COLOR_BGR2GRAY), dtype=np.uint8)
    if asked.bare is not None:
        table = find_bare_sheet(grey, path.name, (max(asked.bare), min(asked.bare)))
    elif asked.mat is not None:
        table = find_mat(grey, path.name, asked.mat)
    else:
        sheets = tuple(find_sheets(grey, path.name, asked.scale))
        table = join_tables([SeenTable(path.name, (grey.shape[1], grey.shape[0]), sheets)])
    del grey
    return _pieces((SeenPhoto(photo, table.cameras[0]),), table, (path.name,), asked, before)


def _joined(paths: Sequence[Path], asked: TraceChoices, tell: Callable[[TraceStep], None]) -> TracedPhoto:
    """What lies on one table, of which each photo shows a part."""
    import cv2

    if not 2 <= len(paths) <= MOST_TOGETHER:
        raise FormatError(f"--one-piece: 2 to {MOST_TOGETHER} photos of one piece are joined, not {len(paths)}")
    photos, tables = [], []
    steps = len(paths) + 1
    for n, path in enumerate(paths):
        tell(TraceStep(n, steps, f"Looking for the sheets in {path.name}"))
        photos.append(read_photo(path))
        grey = np.asarray(cv2.cvtColor(photos[-1], cv2.COLOR_BGR2GRAY), dtype=np.uint8)
        sheets = tuple(find_sheets(grey, path.name, asked.scale))
        tables.append(SeenTable(path.name, (grey.shape[1], grey.shape[0]), sheets))
        del grey
    tell(TraceStep(len(paths), steps, f"Joining {len(paths)} photos, and tracing what lies on the table"))
    table = join_tables(tables)
    looks = evened([SeenPhoto(photo, camera) for photo, camera in zip(photos, table.cameras, strict=True)])
    return _pieces(looks, table, tuple(path.name for path in paths), asked, 0)


def _pieces(
    looks: tuple[SeenPhoto, ...], table: JoinedTable, files: tuple[str, ...], asked: TraceChoices, before: int
) -> TracedPhoto:
    """The pieces on a table that is seen in a photo, or in several."""
    view = seen_from_above(looks, table.papers)
    name = joined_names(files)
    rough, cut_off = rough_outlines(view, name)
    if not rough:
        raise FormatError(
            f"{name}: the pattern runs out of the picture: step back or turn the camera until all of it is seen,"
            " with some table round it; or take several photos of it over two sheets, and have them joined as one piece"
            " (--one-piece)"
        )
    pieces = [
        _piece(outline, f"piece {before + n}", looks, table.scale_doubt, files, asked)
        for n, outline in enumerate(rough, 1)
    ]
    outlines = [piece.outline.points for piece in pieces]
    return TracedPhoto(photo_fits(looks, table, files, outlines), view, tuple(pieces), cut_off)


def _piece(
    rough: Floats,
    name: str,
    looks: tuple[SeenPhoto, ...],
    scale_doubt: float,
    files: tuple[str, ...],
    asked: TraceChoices,
) -> TracedPiece:
    """A piece by its rough outline: its edge, what is cut into it, and what is drawn on it."""
    import shapely

    file = joined_names(files)
    sharp = sharp_outline(rough, looks)
    require_still(looks, files, sharp)
    view = paper_view(looks, sharp)
    if is_parted(view, sharp):
        raise FormatError(
            f"{file}: a gap runs all across '{name}': leave 2 cm of the table between pieces, and lay parts of one"
            " piece so that they overlap"
        )
    cuts = cuts_at(view, fit_outline(sharp, asked.tolerance).points)
    fitted = fit_outline(bridged(sharp, cuts), asked.tolerance)
    is_torn = not shapely.LinearRing(fitted.points).is_simple or fitted.off > MOST_ERROR
    if is_torn or faint_length(fitted.points, looks) > MOST_FAINT:
        more = (
            "all of it in one photo or another; leave the pattern and all sheets where they are until the last photo is"
            " taken"
            if len(looks) > 1
            else "all of it in the picture; of a piece that is too large, take several photos over two sheets, and have"
            " them joined as one piece (--one-piece)"
        )
        raise FormatError(
            f"{file}: the edge of '{name}' is not clear: lay the pattern flat on a plain table of another colour, out"
            f" of shadow, {more}"
        )
    blunt = CORNER / fineness_at(looks, fitted.points)
    by_scale = scale_doubt * np.hypot(*(fitted.points - fitted.points.mean(axis=0)).T)
    by_lines = LINE if asked.mat else 0.0
    doubt = np.sqrt(doubt_at(looks, fitted.points) ** 2 + fitted.off**2 + blunt**2 + by_scale**2 + by_lines**2)
    marks = marks_of(strokes_on(view, fitted.points), fitted, cuts, asked.tolerance)
    traced = TracedPiece(name, fitted, float(doubt.max()), float(np.median(doubt)), tuple(marks))
    is_bare = bool(asked.bare or asked.mat)
    most = MOST_ERROR_BARE if is_bare else MOST_ERROR
    if traced.worst > most:
        raise FormatError(
            f"{file}: '{name}' may be {np.ceil(10 * traced.worst) / 10:.1f} mm off, at most {most:g} mm is allowed: lay"
            " the sheet flat beside the middle of the piece, go nearer, and hold the camera level; "
            + ("the printed reference sheet" if is_bare else "a second sheet, B, on its other side")
            + " makes it surer"
        )
    return traced
