"""The cloth on the table: its layers, and where each point of the table lies on the flat cloth.

Worked out here from the folds alone. ``u`` runs along the flat cloth and ``v`` across it from its lower edge, both seen
from the right side; ``x`` and ``y`` run along and across the table. Each layer lies on the table like a sheet of paper:
moved, and turned over wherever the cloth's wrong side is up. Hand, grain, nap, pattern and faults all follow from that.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from nesting.errors import CheckError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from nesting.verify.asked import Asked

    Floats = NDArray[np.float64]


class Layer(NamedTuple):
    """One layer: ``u = start + along * x``, ``v = low + across * y``, with factors of 1 or -1.

    Where both factors differ the cloth lies wrong side up, and what is cut of it is the mirror image.
    """

    name: str
    along: int = 1
    start: float = 0.0
    across: int = 1
    low: float = 0.0

    def to_cloth(self, points: Floats) -> Floats:
        """Points of the table, shape (n, 2), on the flat cloth."""
        return points * (self.along, self.across) + (self.start, self.low)

    @property
    def linear(self) -> Floats:
        """Its turning over, shape (2, 2)."""
        return np.diag([float(self.along), float(self.across)])


class Region(NamedTuple):
    """A stretch of the table on which the cloth lies in one way, selvedges left out, mm.

    ``folds`` are the places across the table at which its layers hang together, ``band`` is what a cutter calls it.
    """

    name: str
    band: str
    first: float
    last: float
    low: float
    high: float
    layers: tuple[Layer, ...]
    folds: tuple[float, ...] = ()

    def outside(self, outline: Floats) -> dict[str, float]:
        """By how much an outline sticks out of it to each side, mm; less than 0 where it does not."""
        (left, low), (right, high) = outline.min(axis=0), outline.max(axis=0)
        return {
            "start": float(self.first - left),
            "end": float(right - self.last),
            "lower edge": float(self.low - low),
            "upper edge": float(high - self.high),
        }


class LaidCloth(NamedTuple):
    """The laid cloth: its regions, where across the flat cloth a line of its pattern lies, and how wide it lies, mm.

    ``selvedges`` are the edges of its usable part on the flat cloth.
    """

    regions: tuple[Region, ...]
    line: float
    width: float
    selvedges: tuple[float, float]

    @property
    def usable(self) -> float:
        """Usable cloth over all layers side by side, mm: what the length is multiplied by for the density."""
        stages = {region.first for region in self.regions}
        return max(sum((r.high - r.low) * len(r.layers) for r in self.regions if r.first == stage) for stage in stages)


FLAT = Layer("the only layer")


def cloth_of(asked: Asked, length: float, opened: float | None) -> LaidCloth:
    """The cloth as it lies under a marker of some length, mm.

    A line of the pattern is taken to lie along the first fold, or along the middle of cloth that is not folded
    lengthwise: common practice, no source. Where else lines lie follows from the folds.

    Parameters
    ----------
    opened
        From where on the cloth lies open, where it is folded first.

    Raises
    ------
    CheckError
        If the cloth cannot lie in that way, or it is not known how.
    """
    width, edge = asked.fabric.width, asked.fabric.selvedge
    middle, spread, ends = width / 2, asked.spread, (edge, width - edge)
    if spread == "open":
        return LaidCloth(
            (Region("the cloth", "single layer", 0, length, edge, width - edge, (FLAT,)),), middle, width, ends
        )
    if spread == "folded":
        return LaidCloth((_folded(0, length, width, edge),), middle, middle, ends)
    if spread == "tube":
        layers = Layer("the lower layer"), Layer("the upper layer", across=-1)
        return LaidCloth((Region("the tube", "tube", 0, length, 0, middle, layers, (0.0, middle)),), 0.0, middle, ends)
    if spread == "crosswise":
        # The fold lies across the far end: the upper layer comes back from there.
        layers = Layer("the lower layer"), Layer("the upper layer", along=-1, start=2 * length)
        region = Region("the folded cloth", "folded crosswise", 0, length, edge, width - edge, layers)
        return LaidCloth((region,), middle, width, ends)
    if spread in ("face-up", "face-to-face"):
        return LaidCloth((_stack(asked, length),), middle, width, ends)
    if spread == "double-folded":
        quarter = width / 4
        lower = Layer("the lower layer", low=quarter)
        first = lower, Layer("the upper layer", across=-1, low=quarter)
        second = lower, Layer("the upper layer", across=-1, low=5 * quarter)
        return LaidCloth(
            (
                Region("the cloth at the first fold", "first fold", 0, length, 0, quarter - edge, first, (0.0,)),
                Region(
                    "the cloth at the second fold", "second fold", 0, length, quarter + edge, middle, second, (middle,)
                ),
            ),
            quarter,
            middle,
            ends,
        )
    if spread == "part-folded":
        return _part_folded(asked, length)
    if spread == "fold-then-open":
        if opened is None or not 0 < opened < length:
            raise CheckError("the marker does not say where the cloth is opened out")
        flat = Region("the cloth opened out", "single layer", opened, length, edge, width - edge, (FLAT,))
        return LaidCloth((_folded(0, opened, width, edge), flat), middle, width, ends)
    raise CheckError(f"there is no spread '{spread}'")


def _folded(first: float, last: float, width: float, edge: float) -> Region:
    middle = width / 2
    layers = Layer("the lower layer", low=middle), Layer("the upper layer", across=-1, low=middle)
    return Region("the folded cloth", "folded cloth", first, last, 0, middle - edge, layers, (0.0,))


def _part_folded(asked: Asked, length: float) -> LaidCloth:
    """One selvedge lies `depth` from the fold on the upper layer; beside it the lower layer lies alone."""
    width, edge, depth = asked.fabric.width, asked.fabric.selvedge, asked.depth
    if depth is None or not edge < depth <= width / 2:
        raise CheckError(f"cloth {width:.1f} mm wide cannot be folded over by {depth} mm")
    lower, upper = Layer("the lower layer", low=depth), Layer("the upper layer", across=-1, low=depth)
    single = (lower._replace(name="the only layer"),)
    return LaidCloth(
        (
            Region("the folded part", "folded part", 0, length, 0, depth - edge, (lower, upper), (0.0,)),
            Region("the single part", "single part", 0, length, depth, width - depth - edge, single),
        ),
        depth,
        width - depth,
        (edge, width - edge),
    )


def _stack(asked: Asked, length: float) -> Region:
    """Plies on one another; of those face to face each second one is turned over lengthwise, so that naps agree."""
    width, edge = asked.fabric.width, asked.fabric.selvedge
    faces = asked.spread == "face-to-face"
    if asked.plies < 2 or (faces and asked.plies % 2):
        raise CheckError(f"a stack laid {asked.spread} cannot have {asked.plies} plies")
    plies = tuple(
        Layer(f"ply {number + 1}", across=-1, low=width) if faces and number % 2 else Layer(f"ply {number + 1}")
        for number in range(asked.plies)
    )
    return Region("the stack", f"{asked.plies} plies {asked.spread}", 0, length, edge, width - edge, plies)
