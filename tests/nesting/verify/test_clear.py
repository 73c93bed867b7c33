"""How deep two shapes overlap, by discs."""

from __future__ import annotations

import pytest
import shapely

from nesting.errors import CheckError
from nesting.tolerance import TOLERANCE
from nesting.verify.clear import Named, _check_pair, overlap


@pytest.mark.parametrize(
    ("left", "depth"), [(90.0, 10.0), (100.0, 0.0), (100.0 - TOLERANCE / 2, 0.0), (100.0 - 2 * TOLERANCE, 0.02)]
)
def test_depth_of_a_strip(left: float, depth: float) -> None:
    """A strip is as deep as it is wide, however long; within the tolerance it counts as none."""
    shared = overlap(shapely.box(0, 0, 100, 50), shapely.box(left, 0, 200, 50))
    assert shared == pytest.approx(depth, abs=TOLERANCE / 5)


def test_the_buffer_is_kept() -> None:
    """Pieces 2 mm apart, where 3 mm are asked for; the names are said."""
    one, other = Named("back", shapely.box(0, 0, 10, 10)), Named("front", shapely.box(12, 0, 20, 10))
    _check_pair(one, other, 2.0)
    with pytest.raises(CheckError, match=r"'back' and 'front' .*2\.00"):
        _check_pair(one, other, 3.0)
    with pytest.raises(CheckError, match="'back' and 'front' overlap"):
        _check_pair(one, Named("front", shapely.box(9, 0, 20, 10)), 0.0)
