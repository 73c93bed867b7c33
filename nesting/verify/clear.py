"""Whether outlines keep clear of one another, and of faults in the cloth."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from nesting.errors import CheckError
from nesting.tolerance import TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from shapely import Polygon

    from nesting.verify.asked import Asked
    from nesting.verify.laid import Laid
    from nesting.verify.motion import LaidPiece


class Named(NamedTuple):
    """A shape, and the piece it is of; None where it is a fault in the cloth."""

    piece: str | None
    shape: Polygon

    @property
    def name(self) -> str:
        """What it is, as a sentence names it."""
        return "a fault in the cloth" if self.piece is None else f"'{self.piece}'"


def check_valid(laid: Laid) -> None:
    """Make sure that an outline is one that can be cut."""
    import shapely

    shape = shapely.Polygon(laid.outline)
    if not shape.is_valid or not shape.area:
        raise CheckError(f"the cut line of '{laid.piece}' crosses itself, or encloses nothing")


def check_clear(laid: Sequence[LaidPiece], asked: Asked) -> None:
    """Make sure that no two outlines overlap, and that the gap is kept between them.

    Those cut while the cloth lies in one way are held against one another on the table, others on the flat cloth.
    """
    import shapely

    gap = asked.fabric.gap
    stages = sorted({lying.region.first for lying in laid})
    for stage in stages:
        there = [Named(lying.piece.name, shapely.Polygon(lying.laid.outline)) for lying in laid if _in(lying, stage)]
        _check_all(there, there, gap)
    if len(stages) > 1:
        before, after = ([one for lying in laid if _in(lying, stage) for one in _flat(lying)] for stage in stages)
        _check_all(before, after, gap)


def _in(lying: LaidPiece, stage: float) -> bool:
    return lying.region.first == stage


def check_flaws(laid: Sequence[LaidPiece], asked: Asked) -> None:
    """Make sure that nothing is cut of a fault, in any layer, nor nearer to it than the gap."""
    import shapely

    edge, width = asked.fabric.selvedge, asked.fabric.width
    faults = []
    for start, end, low, high in asked.flaws:
        low, high = max(low, edge), min(high, width - edge)
        if low < high:
            faults.append(Named(None, shapely.box(start, low, end, high)))
    if faults:
        _check_all([one for lying in laid for one in _flat(lying)], faults, asked.fabric.gap)


def _flat(lying: LaidPiece) -> list[Named]:
    """What is cut of each layer, on the flat cloth."""
    import shapely

    return [
        Named(lying.piece.name, shapely.Polygon(layer.to_cloth(lying.laid.outline))) for layer in lying.region.layers
    ]


def _check_all(some: Sequence[Named], others: Sequence[Named], gap: float) -> None:
    import shapely

    shapes = [one.shape for one in some]
    tree = shapely.STRtree([other.shape for other in others])
    for i, j in tree.query(shapes, predicate="dwithin", distance=gap).T:
        if some is not others or i < j:
            _check_pair(some[i], others[j], gap)


def _check_pair(one: Named, other: Named, gap: float) -> None:
    depth = overlap(one.shape, other.shape)
    if depth > TOLERANCE:
        raise CheckError(f"{one.name} and {other.name} overlap: they share a strip {depth:.2f} mm wide or more")
    if gap and (apart := one.shape.distance(other.shape)) < gap - TOLERANCE:
        raise CheckError(f"{one.name} and {other.name} are {apart:.2f} mm apart instead of {gap:.2f}")


def overlap(one: Polygon, other: Polygon) -> float:
    """The width of the largest disc that lies in both shapes, mm; 0 if that is less than what may be off."""
    import shapely

    shared = [part for part in shapely.get_parts(shapely.intersection(one, other)) if isinstance(part, shapely.Polygon)]
    deep = [part for part in shared if part.area and not shapely.buffer(part, -TOLERANCE / 2).is_empty]
    if not deep:
        return 0.0
    return 2 * max(float(shapely.maximum_inscribed_circle(part, tolerance=TOLERANCE / 10).length) for part in deep)
