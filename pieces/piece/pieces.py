"""The set of pieces of a garment, and its seams."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, get_args

from pieces.errors import OutlineError, PieceError
from pieces.piece.finished import Finished
from pieces.piece.picture import draw_pieces
from pieces.piece.piece import Material, Piece
from pieces.require import is_one_of, require, require_all, told

if TYPE_CHECKING:
    from collections.abc import Iterator


@dataclass(frozen=True)
class Seam:
    """Two runs of edges that are sewn together.

    Parameters
    ----------
    name
        What the sewer calls the seam.
    first, second
        Edges as (piece name, edge name), each run sewn end to end.
    ease
        By how much the first run is meant to be longer, mm.
    """

    name: str
    first: tuple[tuple[str, str], ...]
    second: tuple[tuple[str, str], ...]
    ease: float = 0.0


def walk(seam: Seam, pieces: PieceSet) -> float:
    """How much longer the first run is than the second, beyond the ease meant, mm."""
    first, second = (sum(pieces[piece].edge(edge).length for piece, edge in run) for run in (seam.first, seam.second))
    return first - second - seam.ease


SEAM_TOLERANCE = 1.0
"""How far two seams that are sewn together may differ, mm."""


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
    finished
        What it measures once it is sewn, beside the body.
    """

    garment: str
    pieces: tuple[Piece, ...]
    seams: tuple[Seam, ...] = ()
    measures: Mapping[str, float] = field(default_factory=dict)
    notes: tuple[str, ...] = ()
    finished: tuple[Finished, ...] = ()

    def __post_init__(self) -> None:
        require(self.garment, str, "the garment of a PieceSet", "text")
        of = f"of '{self.garment}'"
        object.__setattr__(self, "pieces", require_all(self.pieces, Piece, f"the pieces {of}", "pieces"))
        object.__setattr__(self, "seams", require_all(self.seams, Seam, f"the seams {of}", "seams"))
        object.__setattr__(self, "notes", require_all(self.notes, str, f"the notes {of}", "texts"))
        object.__setattr__(self, "finished", require_all(self.finished, Finished, f"the sizes {of}", "finished sizes"))
        require(self.measures, Mapping, f"the measures {of}", "a mapping from names to mm")
        twice = [name for name, times in Counter(p.name for p in self.pieces).items() if times > 1]
        if twice:
            raise PieceError(f"two pieces are called '{twice[0]}': give each its own name")

    def __getitem__(self, name: str) -> Piece:
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise KeyError(f"there is no piece {name!r}: choose {', '.join(p.name for p in self.pieces)}")

    def __iter__(self) -> Iterator[Piece]:
        return iter(self.pieces)

    def __len__(self) -> int:
        return len(self.pieces)

    def __repr__(self) -> str:
        return f"<PieceSet '{self.garment}': {', '.join(piece.name for piece in self.pieces)}>"

    def _repr_svg_(self) -> str:
        return draw_pieces(self.pieces, repr(self))

    def of(self, material: Material) -> tuple[Piece, ...]:
        """The pieces cut from one material; PieceError if it is none."""
        if not is_one_of(material, get_args(Material)):
            raise PieceError(f"a material must be one of {', '.join(get_args(Material))}, not {told(material)}")
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
