"""Traced pieces as sketches, each side by side with the next; what is drawn on them becomes marks, and is told."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

import numpy as np

from pieces.exchange.sketch.sketch import Sketch, entered
from pieces.photo.lines import chord
from pieces.photo.touching import touching_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.exchange.account import EntryKind, EntryRole
    from pieces.exchange.imported import ImportReport
    from pieces.photo.traced import TracedPhoto, TracedPiece

    Floats = NDArray[np.float64]

BETWEEN = 50.0
"""Between what was seen in one photo and in the next, in the frame of the sketches, mm."""

PARALLEL = 3.0
"""A grainline drawn this near to the fold runs along it, degrees."""

ORDER = {"notch": 0, "drill point": 1, "inner line": 2, "dart": 2, "sew line": 2}
"""In which order marks are entered, others last (`entered`)."""

KEPT = {"inner line": "inner line", "dart": "inner line", "sew line": "sew line"}


def sketches_of(
    photos: Sequence[TracedPhoto], report: ImportReport, folds: dict[int, str], *, is_turned: bool
) -> list[Sketch]:
    """A sketch of each piece, and what is to be known of them.

    Parameters
    ----------
    folds
        On which side a piece lies on a fold, by its number.
    is_turned
        Whether the grain was told, so that one that is drawn does not count.
    """
    sketches: list[Sketch] = []
    free = 0.0
    for photo in photos:
        report.remarks.extend(fit.words for fit in photo.fits)
        shift = np.array([0.0, free - min(float(piece.outline.points[:, 1].min()) for piece in photo.pieces)])
        if photo.cut_off:
            things = "something runs" if photo.cut_off == 1 else f"{photo.cut_off} things run"
            report.leave(f"{photo.name}: {things} out of the picture", "only what is seen whole is traced")
        for piece in photo.pieces:
            sketches.append(_sketch(piece, shift, report, folds.get(len(sketches) + 1, ""), is_turned=is_turned))
        free = BETWEEN + max(float(sketch.outline[:, 1].max()) for sketch in sketches)
    return sketches


def _sketch(piece: TracedPiece, shift: Floats, report: ImportReport, side: str, *, is_turned: bool) -> Sketch:
    report.remarks.append(piece.words)
    told = "; ".join(f"{mm:.0f} mm {what}" for what, _, mm in piece.measured())
    report.remarks.append(f"'{piece.name}': measure it with a tape: {told}")
    sketch = Sketch(piece.name, piece.outline.points + shift, side=side)
    more: list[tuple[EntryRole, EntryKind, str, Floats, str]] = []
    for mark in piece.marks:
        points = mark.points + shift
        if mark.kind == "notch":
            sketch.notches.append((f"notch {len(sketch.notches) + 1}", _point(points)))
        elif mark.kind == "drill point":
            sketch.drills.append(_point(points))
        elif mark.kind in KEPT:
            line = np.vstack([points, points[:1]]) if mark.is_ring else points
            sketch.inner.append(("sew" if mark.kind == "sew line" else "line", line))
        elif mark.kind == "grain":
            sketch.grain = _ends(points)
            more.append(("grain", "open line", "a grainline", points, ""))
        elif mark.kind == "fold":
            sketch.fold = _ends(points)
            more.append(("fold", "open line", "a mark for the fold", points, ""))
        elif mark.kind == "writing":
            more.append(("left out", "words", "marks", points, "words in photos are not read"))
        else:
            more.append(("left out", "open line", "a crease", points, "it is taken for a crease of the paper"))
    _say(piece, report)
    _settle_grain(sketch, is_turned=is_turned)
    found = entered(sketch, report, more)
    _explain(piece, report)
    return found


def _explain(piece: TracedPiece, report: ImportReport) -> None:
    """Note by what the outline and the marks, entered last, are taken for what they are; and whether it may be two."""
    outline = len(report.account.entries) - len(piece.marks)
    report.account.because([outline], "placed", "the edge of the paper")
    for may_be_two in touching_words(piece):
        report.guess(may_be_two)
        report.alarms.append((outline, may_be_two))
    marks = sorted(piece.marks, key=lambda mark: ORDER.get(mark.kind, len(ORDER)))
    for number, mark in enumerate(marks, outline + 1):
        report.account.because([number], "placed" if mark.sure == "sure" else "guessed", mark.why)


def _point(points: Floats) -> tuple[float, float]:
    x, y = points[0].tolist()
    return x, y


def _ends(points: Floats) -> tuple[tuple[float, float], tuple[float, float]]:
    (x0, y0), (x1, y1) = points[[0, -1]].tolist()
    return ((x0, y0), (x1, y1)) if x1 >= x0 else ((x1, y1), (x0, y0))


def _settle_grain(sketch: Sketch, *, is_turned: bool) -> None:
    """Let the grain run exactly along a fold that it all but follows, or that is drawn without it."""
    if sketch.fold is None or is_turned:
        return
    fold = np.array(sketch.fold)
    way = (fold[1] - fold[0]) / chord(fold)
    if sketch.grain is None:
        sketch.turn = float(np.degrees(np.arctan2(way[1], way[0])))
        return
    grain = np.array(sketch.grain)
    along = (grain[1] - grain[0]) / chord(grain)
    if np.degrees(np.arccos(np.clip(along @ way, -1, 1))) <= PARALLEL:
        middle, half = grain.mean(axis=0), chord(grain) / 2
        sketch.grain = _ends(np.array([middle - half * way, middle + half * way]))


def _say(piece: TracedPiece, report: ImportReport) -> None:
    """Say what each mark is taken for, why, and how sure that is."""
    counted = Counter((mark.kind, mark.sure, mark.why) for mark in piece.marks if mark.kind != "crease")
    for (kind, sure, why), many in counted.items():
        said = f"'{piece.name}': {_named(kind, many)}, {sure}: {why}"
        report.remarks.append(said) if sure == "sure" else report.guess(said)


def _named(kind: str, many: int) -> str:
    one = {"grain": "grainline", "fold": "mark for the fold"}.get(kind, kind)
    if kind == "writing":
        return "writing" if many == 1 else f"writing in {many} places"
    plural = f"{one}es" if one.endswith("ch") else f"{one}s"
    return f"{'an' if one[0] in 'aeiou' else 'a'} {one}" if many == 1 else f"{many} {plural}"
