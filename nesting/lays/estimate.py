"""Lengths of markers that have not been laid, guessed from those that have."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from nesting.lays.order import Mix

START, SPREAD, SCATTER = 0.1, 0.05, 0.02
"""Before any marker is laid, in shares of a garment's length: what a marker takes beside its garments, how far a size
may be off its guess, and how far a marker may be off the rule (common practice, no source)."""


def estimate_lengths(
    known: Mapping[Mix, float], *, areas: Sequence[float], width: float, density: float = 0.8
) -> Callable[[Mix], float]:
    """A rule for the length of any mix: something for the marker, and something for each garment by size.

    Least squares through the known lengths, pulled towards the areas at the usual density where little is known.
    A known mix keeps its length, and none is shorter than its area.

    Parameters
    ----------
    known
        Marker lengths that have been laid, mm.
    areas
        Cloth that becomes pieces in one garment of each size, mm².
    width
        Usable width of the cloth, mm.
    density
        Share of the cloth that becomes pieces in a good marker.
    """
    floor = np.asarray(areas, dtype=float) / width
    guess = np.append(floor / density, START * floor.mean() / density)
    spread = np.append(SPREAD * guess[:-1], guess[-1])
    scatter = SCATTER * guess[:-1].mean()
    counts = np.array([[*mix, 1] for mix in known], dtype=float).reshape(len(known), len(guess))
    off = np.array(list(known.values())) - counts @ guess
    scaled = counts * spread / scatter
    fitted = guess + spread * np.linalg.solve(np.eye(len(guess)) + scaled.T @ scaled, scaled.T @ off / scatter)

    def length(mix: Mix) -> float:
        if mix in known:
            return known[mix]
        return float(max(fitted @ [*mix, 1], floor @ mix))

    return length
