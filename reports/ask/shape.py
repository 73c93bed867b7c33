"""Shapes in a job: plain pieces from a few figures, alone or beside a garment."""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Annotated, Any, Literal, NamedTuple

from pydantic import BeforeValidator, Field, model_validator

from pieces.errors import DraftError
from pieces.garments.garment import Garment
from pieces.piece.pieces import PieceSet
from pieces.shapes.binding import binding, square_binding
from pieces.shapes.curved import gore, ring, sector
from pieces.shapes.flat import circle, rectangle, strip, triangle
from pieces.shapes.fullness import Fullness, Gathers, Pleats, full_width
from pieces.shapes.shape import PlainShape, ShapeGrain
from pieces.units import INCH, format_both, parse_length, spoken
from reports.ask.offer import FileTable, Name, TypedLength

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from pieces.piece.piece import Piece
    from pieces.shapes.shaped import ShapedPiece

SHAPES = "shapes"
"""What a job calls its garment where it has shapes alone."""

ShapeKind = Literal["rectangle", "strip", "gore", "circle", "ring", "sector", "triangle", "binding"]


class _Keys(NamedTuple):
    """What a kind of shape is told by: what it needs, and what it may have besides.

    `depths` has for each edge the figure that says how deep the shape is behind it.
    """

    needs: tuple[str, ...]
    may_have: tuple[str, ...] = ()
    grain: ShapeGrain = "straight"
    depths: Mapping[str, str] = MappingProxyType({})


_ENDS = {"top": "length", "bottom": "length"}

KINDS: dict[ShapeKind, _Keys] = {
    "rectangle": _Keys(("length", "width"), ("gathers", "pleats"), depths=_ENDS | {"side": "width"}),
    "strip": _Keys(
        ("length", "width"),
        ("gathers", "pleats"),
        "across",
        {"top": "width", "bottom": "width", "side": "length"},
    ),
    "gore": _Keys(("top", "bottom", "length"), depths=_ENDS),
    "circle": _Keys(("diameter",), depths={"edge": "diameter"}),
    "ring": _Keys(("around", "length"), grain="either", depths=_ENDS),
    "sector": _Keys(("around", "length", "share"), depths=_ENDS),
    "triangle": _Keys(("length", "width"), depths={"bottom": "length", "side": "width"}),
    "binding": _Keys(("length", "width"), ("cut_as",), "bias"),
}
"""Each kind of shape, with the keys that are its own, and its grain where none is given."""

SHORTEST, LONGEST = 1.0, 100_000.0
"""No figure of a shape is less or more, mm; common practice, no source."""

MOST_CUT = 5_000
"""No more shapes are laid at once; common practice, no source."""

NARROW = INCH
"""An allowance so wide, mm, is no mistake on a shape however narrow, as on a strap; common practice, no source."""


def _figure(text: Any) -> float:
    """A figure of a shape."""
    mm = parse_length(text)
    if not SHORTEST <= mm <= LONGEST:
        most = spoken("1/16 in to 100 yd", "1 mm to 100 m")
        raise ValueError(f"'{text}' is not a size of a shape: write a length from {most}")
    return mm


ShapeFigure = Annotated[float, BeforeValidator(_figure)]

OWN = ("length", "width", "top", "bottom", "diameter", "around", "share", "gathers", "pleats", "cut_as")


class PleatsTable(FileTable):
    """Pleats: how deep each is folded, and from pleat to pleat as sewn."""

    fold: ShapeFigure
    spacing: ShapeFigure


class ShapeTable(FileTable):
    """A ``[[shape]]`` entry."""

    name: Name
    kind: ShapeKind
    length: ShapeFigure | None = None
    width: ShapeFigure | None = None
    top: ShapeFigure | None = None
    bottom: ShapeFigure | None = None
    diameter: ShapeFigure | None = None
    around: ShapeFigure | None = None
    share: Annotated[float, Field(ge=0.02, le=0.95)] | None = None
    gathers: Annotated[float, Field(ge=1, le=6)] | None = None
    pleats: PleatsTable | None = None
    cut_as: Literal["strips", "square"] | None = None
    cut: int = Field(1, ge=1, le=1000)
    pair: bool = False
    on_fold: bool = False
    material: Literal["shell", "lining", "interfacing"] = "shell"
    grain: ShapeGrain | None = None
    seam: TypedLength = Field("1/2 in", validate_default=True)
    edges: dict[str, TypedLength] = Field(default_factory=dict)

    @model_validator(mode="after")
    def _agrees(self) -> ShapeTable:
        known = KINDS[self.kind]
        given = [key for key in OWN if getattr(self, key) is not None]
        for key in known.needs:
            if key not in given:
                raise ValueError(f"'{self.name}': a {self.kind} needs {' and '.join(known.needs)}: {key} is missing")
        for key in given:
            if key not in (*known.needs, *known.may_have):
                has = ", ".join((*known.needs, *known.may_have))
                raise ValueError(f"'{self.name}': a {self.kind} has no {key}: it has {has}")
        if self.gathers is not None and self.pleats is not None:
            raise ValueError(f"'{self.name}' has both gathers and pleats: keep one of them")
        if self.kind == "binding" and (self.grain not in (None, "bias") or self.on_fold):
            raise ValueError(f"'{self.name}': a binding is cut on the bias, not on a fold: leave grain and on_fold out")
        along = self.grain or known.grain
        if self.on_fold and self.kind in ("gore", "triangle", "sector") and along != "straight":
            raise ValueError(
                f"'{self.name}' is cut on a fold, so its grain runs along it, not {along}:"
                ' write grain = "straight", or leave on_fold out'
            )
        self._check_allowances()
        if self.pair and self.cut % 2:
            raise ValueError(f"'{self.name}' is cut {self.cut} times: a pair needs an even number, such as cut = 2")
        return self

    def _check_allowances(self) -> None:
        """Refuse an allowance that is wider than the shape is deep behind it: it cannot be turned to."""
        known = KINDS[self.kind]
        deepest = max(getattr(self, key) for key in known.needs if key != "share")
        for edge in (*known.depths, *self.edges, "join"):
            depth = getattr(self, known.depths[edge]) if edge in known.depths else deepest
            wide = self.edges.get(edge, self.seam)
            if wide > max(depth, NARROW):
                key = f"{edge} in edges" if edge in self.edges else "seam"
                raise ValueError(
                    f"'{self.name}' is {format_both(depth)} deep behind its {edge} edge, and {key} is"
                    f" {format_both(wide)}: make the allowance less"
                )

    def piece(self) -> tuple[Piece, tuple[str, ...]]:
        """The piece, and what there is to say of it.

        Raises
        ------
        DraftError
            If its figures do not go together.
        """
        shape = PlainShape(
            self.name,
            self.cut,
            self.pair,
            self.on_fold,
            self.material,
            self.grain or KINDS[self.kind].grain,
            self.seam,
            dict(self.edges),
        )
        figures = {key: getattr(self, key) for key in KINDS[self.kind].needs}
        if self.kind in ("rectangle", "strip"):
            full = "length" if self.kind == "strip" else "width"
            figures[full], notes = full_width(self.name, figures[full], self._fullness)
            drafted = strip if self.kind == "strip" else rectangle
            return drafted(shape, **figures), notes
        if self.kind == "binding":
            made = square_binding if self.cut_as == "square" else binding
            piece, said = made(shape, **figures)
            return piece, (said,)
        drafts: dict[str, Callable[..., ShapedPiece]] = {
            "gore": gore,
            "circle": circle,
            "ring": ring,
            "sector": sector,
            "triangle": triangle,
        }
        return drafts[self.kind](shape, **figures), ()

    @property
    def _fullness(self) -> Fullness | None:
        if self.pleats is not None:
            return Pleats(self.pleats.fold, self.pleats.spacing)
        return None if self.gathers is None else Gathers(self.gathers)


@dataclass(frozen=True)
class NoStyle:
    """Shapes have no style."""


SHAPES_ALONE = Garment(SHAPES, SHAPES, (), NoStyle, lambda body, style: PieceSet(SHAPES, ()))
"""The garment of a job that has shapes alone."""


def with_shapes(pieces: PieceSet, shapes: Sequence[ShapeTable]) -> PieceSet:
    """The pieces of a garment and those of some shapes; DraftError if two are called alike."""
    added = [shape.piece() for shape in shapes]
    names = [piece.name for piece in pieces] + [piece.name for piece, _ in added]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        raise DraftError(f"two pieces are called '{twice}': give the [[shape]] another name")
    return PieceSet(
        pieces.garment,
        (*pieces, *(piece for piece, _ in added)),
        pieces.seams,
        pieces.measures,
        (*pieces.notes, *(note for _, notes in added for note in notes)),
        pieces.finished,
    )
