"""What was asked for: the pieces as drafted, how often each is wanted, and the cloth they are cut of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.cloth.fabric import Fabric
    from pieces import Piece


class Flaw(NamedTuple):
    """A rectangle of the flat cloth on which nothing may lie, mm: from its start, and from its lower edge."""

    start: float
    end: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class Asked:
    """What a marker has to give, and the cloth it is laid on.

    Parameters
    ----------
    sets
        The pieces of a garment of each size as drafted, with names of their own, and how many of it are cut at once.
    fabric
        The cloth.
    spread
        How it lies on the table.
    waste_twins
        Whether a piece needed once may be cut double, its twin wasted.
    depth
        How far the one selvedge is folded over, mm, where the cloth is folded in part.
    plies
        Lengths of cloth on one another, in a stack.
    flaws
        Where on the flat cloth nothing may lie.
    length
        Of the cloth, mm, where it is given and not bought.
    has_selvedges
        Whether its outer edges are its selvedges: those of a remnant may have been cut off.
    """

    sets: tuple[tuple[tuple[Piece, ...], int], ...]
    fabric: Fabric
    spread: str
    waste_twins: bool = False
    depth: float | None = None
    plies: int = 2
    flaws: tuple[Flaw, ...] = ()
    length: float | None = None
    has_selvedges: bool = True

    @classmethod
    def of(
        cls,
        pieces: Sequence[Piece],
        fabric: Fabric,
        spread: str,
        *,
        garments: int = 1,
        waste_twins: bool = False,
        depth: float | None = None,
        plies: int = 2,
        flaws: Sequence[tuple[float, float, float, float]] = (),
        length: float | None = None,
        has_selvedges: bool = True,
    ) -> Asked:
        """Some garments of one size."""
        lost = tuple(Flaw(*flaw) for flaw in flaws)
        sets = ((tuple(pieces), garments),)
        return cls(sets, fabric, spread, waste_twins, depth, plies, lost, length, has_selvedges)

    @property
    def growth(self) -> tuple[float, float]:
        """How much larger pieces are cut along and across the cloth, where that shrinks after cutting: factors."""
        along, across = self.fabric.shrinkage
        return 1 / (1 - along / 100), 1 / (1 - across / 100)
