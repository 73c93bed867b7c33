"""A piece as it stands in a file, in the file's own frame, and the pattern piece made of it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import cos, radians, sin
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError, PieceError
from pieces.exchange.mend.halves import Fold, fold_along, fold_on_side, opened_out
from pieces.exchange.mend.tidy import tidy
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.piece.ribbing import rib_band

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from numpy.typing import NDArray

    from pieces.exchange.account import EntryKind, EntryRole
    from pieces.exchange.imported import ImportReport
    from pieces.exchange.words.words import CutNote
    from pieces.piece.curve import Point
    from pieces.piece.piece import Grain, InnerKind, Material

    Floats = NDArray[np.float64]

LONGEST_NAME = 60

GRAIN_DRAWN = 0.6
"""How much of a piece's length a grainline takes that was not drawn."""

SQUARE = 0.1
"""How far a band of rib may be off a rectangle, mm."""

STRAIGHT = 0.02
"""A grainline drawn this little off the file's axes lies on them, degrees: the last digit of what was written."""


@dataclass
class Sketch:
    """A piece as it was drawn.

    Parameters
    ----------
    name
        What the file calls it.
    outline
        Its closed outline, shape (n, 2), mm, in the file's frame, without the repeated first point.
    grain, fold
        The two ends of its grainline and of its mirror line, where they are drawn.
    turn
        Where its grain runs if not as drawn, degrees from the file's x axis; None for as drawn.
    side
        On which side it lies on the fold, ``"left"`` or ``"right"`` of the piece drawn upright; ``"none"`` for no
        fold, even if one is drawn; empty for as drawn.
    allowance
        Seam allowance to add round the outline, mm.
    whole
        The piece itself, where the file holds all there is to know of it.
    """

    name: str
    outline: Floats
    cut: int = 1
    pair: bool = False
    material: Material = "shell"
    grain: tuple[Point, Point] | None = None
    turn: float | None = None
    fold: tuple[Point, Point] | None = None
    side: str = ""
    allowance: float = 0.0
    notches: list[tuple[str, Point]] = field(default_factory=list)
    drills: list[Point] = field(default_factory=list)
    inner: list[tuple[InnerKind, Floats]] = field(default_factory=list)
    label: str = ""
    lies: Grain = "straight"
    tilt: float = 0.0
    on_fold: bool = False
    """Whether words say that it lies on a fold."""
    fold_at: Point | None = None
    """Where the words stand that say so and nothing else."""
    material_by: str = ""
    """The words of the file that say what it is cut of, besides the name of its layer."""
    also: list[CutNote] = field(default_factory=list)
    """What else it is cut of, and how often."""
    grain_heads: tuple[bool, bool] = (False, False)
    """Whether its grainline is drawn with a head on its first end, and on its last."""
    grain_marks: list[Floats] = field(default_factory=list)
    """What else is drawn as a grainline, such as lines of an arrowhead."""
    is_copy: bool = False
    """Whether it is another sketch once more, cut of something else."""
    whole: Piece | None = None
    taken: list[tuple[EntryRole, tuple[int, ...]]] = field(default_factory=list)
    """What of the file went into it: in which part, and the numbers in the account."""

    def take(self, place: EntryRole, numbers: tuple[int, ...]) -> None:
        """Note that things of the file are a part of it."""
        self.taken.append((place, numbers))

    def release(self, place: EntryRole) -> tuple[int, ...]:
        """The numbers of all that was a part of it, and is no more."""
        gone = tuple(number for kind, numbers in self.taken if kind == place for number in numbers)
        self.taken = [each for each in self.taken if each[0] != place]
        return gone

    def angle(self, otherwise: float) -> float:
        """Where its grain runs, degrees from the file's x axis."""
        if self.turn is not None:
            return self.turn
        if self.grain is None:
            return otherwise
        (x0, y0), (x1, y1) = self.grain
        return float(np.degrees(np.arctan2(y1 - y0, x1 - x0)))


def entered(
    sketch: Sketch,
    report: ImportReport,
    more: Sequence[tuple[EntryRole, EntryKind, str, Floats, str]] = (),
) -> Sketch:
    """A sketch that is an entity of the file by itself, entered in the account with all that it has.

    Parameters
    ----------
    more
        What else it holds: where that ends, what it is, what it is called, its points, and why it is left out.
    """
    account = report.account
    source = account.source(f"'{sketch.name}'")
    sketch.take("piece", (account.enter(source, "closed outline", points=sketch.outline),))
    for notch, point in sketch.notches:
        sketch.take("notch", (account.enter(source, "point", f"notch '{notch}'", np.array([point])),))
    for point in sketch.drills:
        sketch.take("drill point", (account.enter(source, "point", "drill point", np.array([point])),))
    for kind, points in sketch.inner:
        place: EntryRole = {"line": "inner line", "cutout": "cutout", "sew": "sew line"}[kind]  # type: ignore[assignment]
        sketch.take(place, (account.enter(source, "open line", f"a {place}", points),))
    for role, entry, called, points, why in more:
        number = account.enter(source, entry, called, points)
        if role == "left out":
            account.put((number,), role, sketch.name, why)
        else:
            sketch.take(role, (number,))
    return sketch


def printable_name(name: str, otherwise: str) -> str:
    """A name without signs that no label can show, and not too long for one."""
    kept = " ".join("".join(sign if sign.isprintable() else " " for sign in name[:1000]).split())
    return kept[:LONGEST_NAME] or otherwise


def piece_of(sketch: Sketch, grain: float, report: ImportReport) -> Piece | None:
    """The pattern piece: turned so that its grain runs along x, its outline mended; None, and told, if it is none.

    Parameters
    ----------
    grain
        Where the grain runs if the sketch does not say, degrees from the file's x axis.
    """
    if sketch.whole is not None and sketch.turn is None and not (sketch.side or sketch.allowance):
        keys = {"name": sketch.name, "cut": sketch.cut, "mirrored_pair": sketch.pair, "material": sketch.material}
        keys |= {"label": sketch.label, "lies": sketch.lies, "tilt": sketch.tilt}
        return replace(sketch.whole, **keys)  # type: ignore[arg-type]
    ring = tidy(sketch.outline, sketch.name, report)
    if ring is None:
        return None
    turned = turning(sketch.angle(grain))
    ring = turned(ring)
    try:
        if sketch.material == "rib":
            if band := _band(sketch, ring, turned):
                return band
            sketch.material = "shell"
            report.guess(f"'{sketch.name}': a rib band is a rectangle along the grain, and this is not; taken as shell")
        fold, ring = _fold(sketch, ring, turned, report)
        return _piece(sketch, ring, fold, turned)
    except FormatError:
        raise
    except PieceError as error:
        report.leave(f"'{sketch.name}'", str(error))
        return None


def turning(angle: float) -> Callable[[Floats], Floats]:
    """What brings points of the file into the piece's frame; whole quarter turns are exact."""
    if abs(angle) <= STRAIGHT:
        return lambda points: points
    quarters, rest = divmod(angle, 90.0)
    near = round(angle / 90.0)
    if abs(angle - 90.0 * near) <= STRAIGHT:
        quarters, rest = near % 4, 0.0
    exact = ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))
    c, s = exact[int(quarters) % 4] if rest == 0 else (cos(radians(angle)), sin(radians(angle)))
    matrix = np.array([[c, -s], [s, c]])
    return lambda points: np.ascontiguousarray(points @ matrix)


def _fold(
    sketch: Sketch, ring: Floats, turned: Callable[[Floats], Floats], report: ImportReport
) -> tuple[Fold | None, Floats]:
    """The fold of a half, and its outline with the fold in front; a half that cannot lie on a fold is opened out."""
    if sketch.side in ("left", "right"):
        fold = fold_on_side(ring, sketch.side, sketch.name)
    elif sketch.side == "none" or sketch.fold is None:
        return None, ring
    else:
        line = turned(np.array(sketch.fold))
        found = fold_along(ring, line)
        if found is None:
            report.guess(f"'{sketch.name}': its mirror line is not one of its edges, so it is taken as drawn whole")
            sketch.inner.append(("line", np.array(sketch.fold)))
            if not sketch.is_copy:  # of which nothing is taken twice
                sketch.take("inner line", sketch.release("fold"))
            return None, ring
        fold = found
    if not fold.is_along_grain:
        report.remarks.append(f"'{sketch.name}': its fold does not run along the grain, so the piece is opened out")
        return None, opened_out(ring, fold)
    if fold.moved > 1e-3:
        report.mended(sketch.name, "its fold edge made straight", fold.moved)
    if sketch.lies != "straight":
        report.guess(f"'{sketch.name}': it is on a fold, and lies straight, not {sketch.lies}")
    return fold, fold.in_front(ring)


def _piece(sketch: Sketch, ring: Floats, fold: Fold | None, turned: Callable[[Floats], Floats]) -> Piece:
    closed = np.vstack([ring, ring[:1]])
    edges: tuple[Edge, ...] = (Edge("outline", closed, sketch.allowance),)
    if fold is not None:
        edges = (
            Edge("fold", closed[: fold.count], 0.0, "fold"),
            Edge("outline", closed[fold.count - 1 :], sketch.allowance),
        )

    def placed(point: Point) -> Point:
        x, y = turned(np.array([point]))[0].tolist()
        return x, y

    return Piece(
        sketch.name,
        edges,
        cut=sketch.cut,
        mirrored_pair=sketch.pair and sketch.cut % 2 == 0 and fold is None,
        material=sketch.material,
        grain=_grainline(sketch, ring, placed),
        notches=tuple(Notch(name, placed(point)) for name, point in sketch.notches),
        drill_points=tuple(placed(point) for point in sketch.drills),
        label=sketch.label,
        lies="straight" if fold else sketch.lies,
        tilt=sketch.tilt,
        inner=tuple(InnerLine(kind, tuple(map(tuple, turned(points).tolist()))) for kind, points in sketch.inner),
    )


def _grainline(sketch: Sketch, ring: Floats, placed: Callable[[Point], Point]) -> tuple[Point, Point]:
    """The grainline as drawn, made exactly straight; or one across the middle of the piece."""
    import shapely

    if sketch.grain is not None and sketch.turn is None:
        (x0, y0), (x1, y1) = map(placed, sketch.grain)
        y = y0 if y0 == y1 else (y0 + y1) / 2
        return (x0, y), (x1, y)
    outline = shapely.Polygon(ring)
    y = float(outline.representative_point().y)
    x0, _, x1, _ = outline.bounds
    inside = shapely.get_parts(outline.intersection(shapely.LineString([(x0 - 1, y), (x1 + 1, y)])))
    a, _, b, _ = max(inside, key=lambda part: part.length).bounds
    spare = (1 - GRAIN_DRAWN) / 2 * (b - a)
    return (a + spare, y), (b - spare, y)


def _band(sketch: Sketch, ring: Floats, turned: Callable[[Floats], Floats]) -> Piece | None:
    """A band of rib, with its notches on its edges; None if the piece is no rectangle along its grain."""
    (x0, y0), (x1, y1) = ring.min(axis=0).tolist(), ring.max(axis=0).tolist()
    corners = np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])
    off = max(float(np.hypot(*(ring - corner).T).min()) for corner in corners)
    on = np.minimum(np.abs(ring - (x0, y0)), np.abs(ring - (x1, y1))).min(axis=1)
    if max(off, float(on.max())) > SQUARE:
        return None
    grown, seam = 2 * sketch.allowance, sketch.allowance
    band = rib_band(sketch.name, y1 - y0 + grown, x1 - x0 + grown, seam, cut=sketch.cut, label=sketch.label, places=())
    notches = []
    for name, point in sketch.notches:  # each as often as it is drawn, on the edge or end that it is nearest to
        x, y = np.clip(turned(np.array([point]))[0], (x0, y0), (x1, y1)).tolist()
        _, x, y = min((x - x0, x0, y), (x1 - x, x1, y), (y - y0, x, y0), (y1 - y, x, y1))
        notches.append(Notch(name, (x - x0 + seam, y - y0 + seam)))
    return replace(band, notches=tuple(notches))
