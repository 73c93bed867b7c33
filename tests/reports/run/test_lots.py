"""Lots: what their markers give, ply by ply."""

from __future__ import annotations

import pytest

from nesting.errors import SpreadError, WrongMarkerError
from nesting.solver import solve
from nesting.stop import MaxIterations
from reports.order import RunFabric
from reports.run.lots import Lot, _refuse_one_handed
from tests.nesting.forging import patch, sleeve, tab


def cloth(spread: str) -> RunFabric:
    """Cloth spread in one way."""
    return RunFabric.model_validate({"width": "40 in", "spread": spread})


def test_face_to_face_gives_mirror_images() -> None:
    """Of plies face to face each second one gives mirror images: pairs and tabs may lie so, a patch may not."""
    for spread, is_refused in (("face-up", False), ("face-to-face", True)):
        lot = Lot("shell", {"rust": cloth(spread)}, {"M": (sleeve(), tab(), patch())})
        marker = solve(lot.problem((1,)), MaxIterations(0)).marker
        if is_refused:
            with pytest.raises(
                WrongMarkerError, match="'patch' is cut 1 as drafted and 1 as its mirror image, wanted 2"
            ):
                lot.verify(marker, (1,))
        else:
            lot.verify(marker, (1,))
    _refuse_one_handed(cloth("face-to-face"), {"M": (sleeve(), tab())})
    with pytest.raises(SpreadError, match=r"'patch' is no pair.*spread them face-up"):
        _refuse_one_handed(cloth("face-to-face"), {"M": (sleeve(), patch())})


def test_sizes_are_counted_apart() -> None:
    """A marker of an M and an L is none of two M."""
    lot = Lot("shell", {"rust": cloth("folded")}, {s: (sleeve(name=f"sleeve {s}"),) for s in ("M", "L")})
    marker = solve(lot.problem((1, 1)), MaxIterations(0)).marker
    lot.verify(marker, (1, 1))
    with pytest.raises(WrongMarkerError, match="no such piece was asked for"):
        lot.verify(marker, (2, 0))
