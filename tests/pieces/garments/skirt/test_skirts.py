"""All skirts: what holds of each of them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely

from pieces import GARMENTS, Body, inches

if TYPE_CHECKING:
    from pieces.garments import Garment

FITTED = ("circle-skirt", "gored-skirt", "straight-skirt", "pleated-skirt")
"""Skirts whose zip reaches the hip."""

SKIRTS = [garment for name, garment in GARMENTS.items() if name.endswith("-skirt")]
BODY = Body(waist=inches(28), hip=inches(38))


@pytest.mark.parametrize("skirt", SKIRTS, ids=lambda skirt: skirt.name)
def test_interfacing_is_cut_or_bought_by_area(skirt: Garment) -> None:
    """Without pieces of interfacing its area is on the list; with them it is not, and they are no more than it."""
    assert skirt.trims
    bare = skirt.style(waistband="folded")
    (listed,) = (trim for trim in skirt.trims(skirt.draft(BODY, bare), bare) if trim.name == "interfacing")
    cut = replace(bare, interfacing="cut")
    drafted = skirt.draft(BODY, cut)
    assert "interfacing" not in {trim.name for trim in skirt.trims(drafted, cut)}
    area = sum(shapely.Polygon(piece.unfolded).area * piece.cut for piece in drafted.of("interfacing"))
    assert 0.5 * listed.area < area < listed.area


@pytest.mark.parametrize("skirt", [skirt for skirt in SKIRTS if skirt.name in FITTED], ids=lambda skirt: skirt.name)
def test_a_zip_reaches_the_hip(skirt: Garment) -> None:
    """A hip 6 1/2 in down takes a zip of 7 in, as sold; one 9 1/2 in down one of 10 in."""
    assert skirt.trims
    for deep, sold in ((6.5, 7), (9.5, 10)):
        style = skirt.style()
        drafted = skirt.draft(replace(BODY, hip_depth=inches(deep)), style)
        (closure,) = (trim for trim in skirt.trims(drafted, style) if trim.name == "zip")
        assert closure.sold == pytest.approx(sold * 25.4) and closure.count == 1
