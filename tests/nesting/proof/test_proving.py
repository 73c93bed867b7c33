"""Jigsaws into proofs, seeded: what fits by construction is never said not to."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
import shapely

from tests.make.proving import cut_at_random, wrong_proofs

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.mark.generated(40)
def test_no_proof_goes_too_far(numbers: Iterator[int]) -> None:
    """Cloth of known length cut up, laid open, folded and with flaws: no bound is longer, and no remnant too small."""
    for number in numbers:
        kind, found = wrong_proofs(0, number)
        assert not found, f"{number}, {kind}: {found}"


def test_jigsaws_are_whole() -> None:
    """The parts of a jigsaw cover the cloth without overlap, some of them hollow, some rectangles (shapely)."""
    hollow = 0
    for seed in range(20):
        jigsaw = cut_at_random(np.random.default_rng(seed))
        parts = [shapely.Polygon(part) for part in jigsaw.parts]
        assert sum(part.area for part in parts) == pytest.approx(jigsaw.length * jigsaw.width)
        assert shapely.union_all(parts).area == pytest.approx(jigsaw.length * jigsaw.width)
        hollow += any(part.convex_hull.area > part.area * 1.001 for part in parts)
    assert hollow > 3
