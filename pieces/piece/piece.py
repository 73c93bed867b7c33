"""The pattern piece: what is cut from cloth, and everything the cutter must know about it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import chain
from numbers import Real
from typing import TYPE_CHECKING, Any, Literal, get_args

import numpy as np

from pieces.errors import OutlineError, PieceError, WrongTypeError
from pieces.piece.outline import Edge, cut_line
from pieces.piece.picture import draw_pieces
from pieces.piece.polygon import FARTHEST, grain_ends, polygon_sides
from pieces.require import is_one_of, require, require_all, require_number, require_whole, told

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray
    from shapely import Polygon

    from pieces.length import Written
    from pieces.piece.curve import Point

    Floats = NDArray[np.float64]

Material = Literal["shell", "rib", "lining", "interfacing"]

Grain = Literal["straight", "cross", "free"]

InnerKind = Literal["line", "cutout", "sew"]

LEAST_AREA = 1.0
"""An outline around less, mm², is no piece of cloth."""

MOST_TILT = 15.0
"""More degrees off the grain are no tilt but another grain."""


@dataclass(frozen=True)
class Notch:
    """A mark on the sew line, to be matched with one on another piece."""

    name: str
    point: Point


@dataclass(frozen=True)
class InnerLine:
    """A line within a piece: drawn on it, cut out of it, or where it is sewn."""

    kind: InnerKind
    points: tuple[Point, ...]


_COLLECTIONS: tuple[tuple[str, type, str], ...] = (
    ("edges", Edge, "edges"),
    ("notches", Notch, "notches"),
    ("drill_points", object, "points"),
    ("inner", InnerLine, "inner lines"),
    ("grain", object, "two points"),
)


@dataclass(frozen=True, eq=False)
class Piece:
    """A pattern piece in its own frame: x along the grain, from the top down; y across, from the centre out.

    Parameters
    ----------
    name
        Unique within a garment, such as ``"back"``.
    edges
        Its sides, counter-clockwise, closed.
    cut
        How many the garment needs (a piece on the fold counts once, unfolded).
    mirrored_pair
        Whether half of them are left and half right.
    material
        What it is cut from.
    grain
        The grainline's two ends; it lies parallel to the selvedge.
    notches
        Marks on the sew line.
    drill_points
        Marks inside the piece.
    label
        A word for the cutter, such as ``"centre back on fold"``.
    lies
        How strictly the grainline keeps to the selvedge: ``"straight"`` always, ``"cross"`` may lie across it as
        well, ``"free"`` at any eighth of a turn. On cloth with a nap all keep to it.
    tilt
        Degrees off the grain that do no harm.
    match
        The point that lies on the lines of the cloth's pattern, if there is one: x on those across the cloth, y on
        those along it.
    inner
        Lines within it. The cloth of a cutout is not used for other pieces.
    border
        Name of the edge that lies on the border of a cloth that has one; of none by default.

    Raises
    ------
    OutlineError
        If the outline is empty, open, crosses itself, or its fold edge is not straight along the grain.
    """

    name: str
    edges: tuple[Edge, ...]
    cut: int = 1
    mirrored_pair: bool = False
    material: Material = "shell"
    grain: tuple[Point, Point] = ((0.0, 0.0), (1.0, 0.0))
    notches: tuple[Notch, ...] = ()
    drill_points: tuple[Point, ...] = ()
    label: str = ""
    lies: Grain = "straight"
    tilt: float = 0.0
    match: Point | None = None
    inner: tuple[InnerLine, ...] = ()
    border: str = ""

    @classmethod
    def from_polygon(
        cls,
        points: ArrayLike | Polygon,
        name: str,
        *,
        unit: str = "",
        seam: Written | None = None,
        cut: int | None = None,
        pair: bool = False,
        grain: Literal["x", "y"] | tuple[Point, Point] = "x",
        **more: Any,
    ) -> Piece:
        """A piece of one's own outline.

        Parameters
        ----------
        points
            The outline, shape (n, 2), or a shapely polygon: open or closed, in either direction.
        unit
            What its numbers count, such as ``"cm"``; it must be said.
        seam
            Allowance to cut beyond the outline, such as ``"1/2 in"``; without it, the outline is the cut line.
        cut, pair
            How many are cut, and whether half of them are mirror images: by default one, of a pair two.
        grain
            The axis of the points that runs along the selvedge, or the grainline's two ends.
        more
            All else as of `Piece`, in mm: material, label, lies, tilt, notches and so on.

        Raises
        ------
        OutlineError
            If the outline crosses itself, encloses nothing, has fewer than three points or holes.
        LengthError, WrongTypeError
            If a unit is missing or unknown, or something of another kind is given.
        """
        require(name, str, "the name of a piece", "text")
        if cut is not None:
            require_whole(cut, f"how many of '{name}' are cut")
        sides = polygon_sides(points, name, unit, seam)
        ends = grain_ends(grain, unit, name)
        return cls(name, sides, (2 if pair else 1) if cut is None else cut, pair, grain=ends, **more)

    def __post_init__(self) -> None:
        _require_kinds(self)
        if not 0 <= self.tilt <= MOST_TILT:
            raise PieceError(f"'{self.name}' may tilt by 0 to {MOST_TILT:g} degrees, not {self.tilt:g}")
        if self.on_fold and (self.lies != "straight" or self.grain[0][1] != self.grain[1][1]):
            raise PieceError(f"'{self.name}' is cut on a fold: its grainline must run straight along the fold")
        if self.cut < 1 or (self.mirrored_pair and self.cut % 2):
            raise PieceError(
                f"'{self.name}' is cut {self.cut} times: a pair needs an even number, and every piece one or more"
            )
        _check_outline(self)

    @cached_property
    def sew_line(self) -> Floats:
        """The sewn outline, shape (n, 2), without the repeated last point."""
        return np.vstack([edge.points[:-1] for edge in self.edges])

    @cached_property
    def cut_line(self) -> Floats:
        """The outline to cut, shape (n, 2), seam allowances included."""
        return cut_line(self.edges)

    @property
    def on_fold(self) -> bool:
        """Whether this is one half of a piece, to be cut with an edge on a fold."""
        return self.fold_edge is not None

    @property
    def has_hole(self) -> bool:
        """Whether something is cut out of it, as of a ring."""
        return any(line.kind == "cutout" for line in self.inner)

    @property
    def fold_edge(self) -> Edge | None:
        """The edge that lies on the fold."""
        return next((edge for edge in self.edges if edge.kind == "fold"), None)

    @cached_property
    def unfolded(self) -> Floats:
        """The cut line of the whole piece, both halves where it is drawn on a fold."""
        if self.fold_edge is None:
            return self.cut_line
        fold = float(self.fold_edge.points[0, 1])
        on_fold = np.abs(self.cut_line[:, 1] - fold) < 1e-6
        first = int(np.flatnonzero(on_fold & ~np.roll(on_fold, 1))[0])
        half = np.roll(self.cut_line, -first, axis=0)
        open_half = np.vstack([half[np.count_nonzero(on_fold) - 1 :], half[:1]])  # fold end round to fold start
        return np.vstack([open_half, open_half[-2:0:-1] * (1, -1) + (0, 2 * fold)])

    @property
    def length(self) -> float:
        """Size along the grain, cut, mm."""
        return float(np.ptp(self.cut_line[:, 0]))

    @property
    def width(self) -> float:
        """Size across the grain, cut and unfolded, mm."""
        return float(np.ptp(self.unfolded[:, 1]))

    def edge(self, name: str) -> Edge:
        """The edge of that name; KeyError with the known names if there is none."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise KeyError(f"'{self.name}' has no edge {name!r}; it has {', '.join(e.name for e in self.edges)}")

    def __repr__(self) -> str:
        fold = ", on fold" if self.on_fold else ""
        return f"<Piece '{self.name}': {self.length / 10:.1f} x {self.width / 10:.1f} cm, cut {self.cut}{fold}>"

    def _repr_svg_(self) -> str:
        return draw_pieces([self], repr(self))


def _require_kinds(piece: Piece) -> None:
    """Make sure that everything of a piece is of its kind: WrongTypeError, or PieceError for an unknown word."""
    require(piece.name, str, "the name of a piece", "text")
    of = f"of '{piece.name}'"
    require(piece.label, str, f"the label {of}", "text")
    require(piece.mirrored_pair, bool, f"the mirrored_pair {of}", "True or False")
    require_whole(piece.cut, f"the cut {of}")
    require_number(piece.tilt, f"the tilt {of}")
    for what, given, known in (("material", piece.material, get_args(Material)), ("lies", piece.lies, get_args(Grain))):
        if not is_one_of(given, known):
            raise PieceError(f"the {what} {of} must be one of {', '.join(known)}, not {told(given)}")
    for what, kind, needs in _COLLECTIONS:
        kept = require_all(getattr(piece, what), kind, f"the {what.replace('_', ' ')} {of}", needs)
        object.__setattr__(piece, what, kept)
    if len(piece.grain) != 2:
        raise WrongTypeError(f"the grain {of} must be two points, not {len(piece.grain)}")
    marks: list[Any] = [*piece.grain, *piece.drill_points, *(notch.point for notch in piece.notches)]
    marks += [point for line in piece.inner if not _are_points(line.points) for point in line.points]
    for point in marks if piece.match is None else [*marks, piece.match]:
        if not _is_point(point):
            raise WrongTypeError(f"a mark or grainline {of} must be at a point, two numbers in mm, not {told(point)}")


def _are_points(given: Any) -> bool:
    """Whether all are plain points, as of nearly all lines: asked of them together, for there may be thousands."""
    return (
        type(given) is tuple
        and {*map(type, given)} == {tuple}
        and {*map(len, given)} == {2}
        and {*map(type, chain.from_iterable(given))} == {float}
    )


def _is_point(given: Any) -> bool:
    if type(given) is tuple and len(given) == 2 and type(given[0]) is type(given[1]) is float:  # nearly all are
        return True
    return isinstance(given, Sequence | np.ndarray) and len(given) == 2 and all(isinstance(x, Real) for x in given)


def _check_outline(piece: Piece) -> None:
    name = piece.name
    if not piece.edges:
        raise OutlineError(f"'{name}' has no edges: an outline needs at least one closed edge")
    marks: list[Any] = [[notch.point for notch in piece.notches], piece.grain, piece.drill_points]
    marks += [[piece.match] if piece.match else [], *(line.points for line in piece.inner)]
    if not all((np.abs(points) < FARTHEST).all() for points in marks if len(points)):
        raise OutlineError(f"'{name}' has a mark, a line or a grainline more than a kilometre away")
    for edge, after in zip(piece.edges, piece.edges[1:] + piece.edges[:1], strict=True):
        if len(edge.points) < 2 or not (np.abs(edge.points) < FARTHEST).all():
            raise OutlineError(f"edge '{edge.name}' of '{name}' needs two points or more, all within a kilometre")
        if not 0 <= edge.allowance < FARTHEST:
            raise OutlineError(f"edge '{edge.name}' of '{name}' has an allowance of {edge.allowance} mm: 0 or more")
        apart = float(np.hypot(*(edge.points[-1] - after.points[0])))
        if apart > 1e-6:
            raise OutlineError(f"'{name}' is open: '{edge.name}' ends {apart:.2f} mm from '{after.name}'")
        if edge.kind == "fold" and (edge.allowance or np.ptp(edge.points[:, 1]) > 1e-6):
            raise OutlineError(f"the fold edge of '{name}' must be straight along the grain, without an allowance")
    _check_line(f"the sew line of '{name}'", piece.sew_line)
    if not np.array_equal(piece.sew_line, piece.cut_line):
        _check_line(f"the cut line of '{name}'", piece.cut_line)


def _check_line(what: str, points: Floats) -> None:
    """Make sure that a line goes once round an area; OutlineError says what it does instead."""
    import shapely

    outline = shapely.Polygon(points) if len(points) > 2 else shapely.Polygon()
    is_valid = outline.is_valid
    if not is_valid or outline.area < LEAST_AREA:
        if not is_valid and outline.convex_hull.area >= LEAST_AREA:
            why = shapely.is_valid_reason(outline)
            raise OutlineError(f"{what} crosses itself, or goes back on itself ({why}): check its measurements")
        raise OutlineError(f"{what} encloses nothing, or less than a square millimetre: check the unit")
    if not outline.exterior.is_ccw:
        raise OutlineError(f"{what} must run counter-clockwise")
