"""The block: curves square to the seams they meet, and the corners that allowances make."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from pieces.garments.jacket.block import Block
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from pieces import Body
    from pieces.garments import JacketStyle

INCH = 25.4


def test_an_armhole_comes_as_near_as_asked(body: Body, style: JacketStyle) -> None:
    """Halfway up it is 180 mm from the centre line, nowhere less, and it swings in and out once."""
    block = Block.of(body, style)
    curve = block.armhole(1.0, 180.0)
    assert float(curve[:, 1].min()) == pytest.approx(180, abs=0.2)
    at = curve[int(np.argmin(curve[:, 1])), 0]
    assert at == pytest.approx((block.sewn_underarm[0] + block.sewn_tip[0]) / 2, abs=1)
    inwards = np.diff(curve[:, 1]) < 0
    assert np.count_nonzero(np.diff(inwards.astype(int))) == 1


def test_cut_corners(body: Body, style: JacketStyle) -> None:
    """With one seam for all they are the corners the rules give; a wider armhole moves the shoulder point out."""
    block = Block.of(body, style)
    neck, tip, depth = block.cut_corners(style.seams)
    assert neck == pytest.approx(block.neck) and tip == pytest.approx(block.tip)
    assert depth / INCH == pytest.approx(10.5)
    _, further, _ = block.cut_corners(replace(style, **in_mm({"armhole_seam": INCH})).seams)
    assert np.hypot(*np.subtract(further, tip)) / INCH == pytest.approx(0.5)
