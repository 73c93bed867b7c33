"""The pattern piece: what is cut from cloth, and everything the cutter must know about it."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Literal

import numpy as np

from pieces.errors import OutlineError, PieceError
from pieces.picture import draw_pieces
from pieces.seam import Edge, Seam, cut_line, walk

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from numpy.typing import NDArray

    from pieces.curve import Point

    Floats = NDArray[np.float64]

Material = Literal["shell", "rib", "lining", "interfacing"]

Grain = Literal["straight", "cross", "free"]

InnerKind = Literal["line", "cutout", "sew"]

MOST_TILT = 15.0
"""More degrees off the grain are no tilt but another grain."""

SEAM_TOLERANCE = 1.0
"""How far two seams that are sewn together may differ, mm."""

FARTHEST = 1e6
"""No pattern reaches a kilometre from its origin: a larger coordinate is a mistake."""


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

    def __post_init__(self) -> None:
        if not 0 <= self.tilt <= MOST_TILT:
            raise PieceError(f"'{self.name}' may tilt by 0 to {MOST_TILT:g} degrees, not {self.tilt:g}")
        if self.on_fold and (self.lies != "straight" or self.grain[0][1] != self.grain[1][1]):
            raise PieceError(f"'{self.name}' is cut on a fold, so that its grainline must run straight along it")
        if self.cut < 1 or (self.mirrored_pair and self.cut % 2):
            raise PieceError(f"'{self.name}' is cut {self.cut} times; a pair needs an even number, all need one")
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


def _check_outline(piece: Piece) -> None:
    import shapely

    name = piece.name
    if not piece.edges:
        raise OutlineError(f"'{name}' has no edges: an outline needs at least one closed edge")
    inner = [point for line in piece.inner for point in np.asarray(line.points).tolist()]
    marks = [notch.point for notch in piece.notches] + [*piece.grain, *piece.drill_points, *inner]
    if not (np.abs(marks + ([piece.match] if piece.match else [])) < FARTHEST).all():
        raise OutlineError(f"'{name}' has a mark, a line or a grainline that is not within a kilometre")
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
    for what, points in (("sew line", piece.sew_line), ("cut line", piece.cut_line)):
        outline = shapely.Polygon(points) if len(points) > 2 else shapely.Polygon()
        if outline.is_empty or outline.area < 1.0:
            raise OutlineError(f"the {what} of '{name}' encloses nothing")
        if not outline.is_valid:
            why = shapely.is_valid_reason(outline)
            raise OutlineError(f"the {what} of '{name}' crosses itself ({why}): its sizes do not go together")
        if not outline.exterior.is_ccw:
            raise OutlineError(f"the {what} of '{name}' must run counter-clockwise")


@dataclass(frozen=True, eq=False)
class PieceSet:
    """All pieces of one garment in one size, with what there is to say of them.

    Parameters
    ----------
    garment
        The garment's name.
    pieces
        Its pieces; names are unique.
    seams
        Which edges are sewn together.
    measures
        Named finished and cut dimensions, mm.
    notes
        Remarks for the maker: rules used, differences eased in, values out of the ordinary.
    """

    garment: str
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    measures: Mapping[str, float] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        twice = [name for name, times in Counter(p.name for p in self.pieces).items() if times > 1]
        if twice:
            raise PieceError(f"two pieces are called '{twice[0]}': each needs a name of its own")

    def __getitem__(self, name: str) -> Piece:
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(f"no piece {name!r}; there are {', '.join(p.name for p in self.pieces)}")

    def __iter__(self) -> Iterator[Piece]:
        return iter(self.pieces)

    def __len__(self) -> int:
        return len(self.pieces)

    def __repr__(self) -> str:
        return f"<PieceSet '{self.garment}': {', '.join(piece.name for piece in self.pieces)}>"

    def _repr_svg_(self) -> str:
        return draw_pieces(self.pieces, repr(self))

    def of(self, material: Material) -> tuple[Piece, ...]:
        """The pieces cut from one material."""
        return tuple(piece for piece in self.pieces if piece.material == material)

    def check(self) -> None:
        """Make sure that seams which are sewn together match, and that notches lie on the sew line.

        Raises
        ------
        OutlineError
            At the first seam or notch that does not; it says by how much.
        """
        import shapely

        for seam in self.seams:
            difference = walk(seam, self)
            if abs(difference) > SEAM_TOLERANCE:
                raise OutlineError(
                    f"the two sides of the seam '{seam.name}' differ by {difference:.1f} mm, more than"
                    f" {SEAM_TOLERANCE:g} mm"
                )
        for piece in self.pieces:
            sewn = shapely.LinearRing(piece.sew_line)
            for notch in piece.notches:
                if sewn.distance(shapely.Point(notch.point)) > 1e-3:
                    raise OutlineError(f"notch '{notch.name}' of '{piece.name}' lies off its sew line")
