"""All skirts: what holds of each of them."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely

from pieces import GARMENTS, Body, inches
from pieces.body.rules import measured_or_usual
from pieces.body.sizes import find_table
from pieces.errors import DraftError

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
    assert skirt.steps and "Interfacing" in {step.title for step in skirt.steps(skirt.draft(BODY, bare), bare)}
    cut = replace(bare, interfacing="cut")
    drafted = skirt.draft(BODY, cut)
    assert "interfacing" not in {trim.name for trim in skirt.trims(drafted, cut)}
    area = sum(shapely.Polygon(piece.unfolded).area * piece.cut for piece in drafted.of("interfacing"))
    assert 0.5 * listed.area < area < listed.area


@pytest.mark.parametrize("skirt", SKIRTS, ids=lambda skirt: skirt.name)
def test_a_length_that_is_not_given_goes_by_the_body(skirt: Garment) -> None:
    """Of every size of children about to the knee: crotch depth and 0.43 of the inside leg; of others 24 in at most."""
    for name in ("children", "women"):
        table = find_table(name)
        for body in map(table.body, table.sizes):
            (long,) = (size.garment for size in skirt.draft(body, skirt.style()).finished if size.name[:6] == "length")
            knee = measured_or_usual(body, "crotch_depth") + 0.43 * measured_or_usual(body, "inside_leg")
            assert long <= 24 * 25.4 + 1e-6 and (name == "women" or long == pytest.approx(knee, rel=0.05))
    child = find_table("children").body("98")
    notes = skirt.draft(child, skirt.style(length="24 in")).notes
    assert any(note.startswith("length: 24 in (610 mm) reaches the floor") for note in notes)


@pytest.mark.parametrize("skirt", SKIRTS, ids=lambda skirt: skirt.name)
def test_a_hem_has_something_to_lie_on(skirt: Garment) -> None:
    """No hem is deeper than half of the skirt; the order of sewing says how it is turned up."""
    with pytest.raises(DraftError, match=r"choose 10 in .* or less") as raised:
        skirt.draft(BODY, skirt.style(length="20 in", hem="11 in"))
    assert raised.value.about == "hem" and skirt.steps
    for deep, said in (("0 in", "Nothing is turned up"), ("1/2 in", "by 1/4 in"), ("2 in", "by 2 in")):
        style = skirt.style(hem=deep)
        (step,) = (step for step in skirt.steps(skirt.draft(BODY, style), style) if step.title == "Hem")
        assert said in step.text


@pytest.mark.parametrize("skirt", [skirt for skirt in SKIRTS if skirt.name in FITTED], ids=lambda skirt: skirt.name)
def test_a_zip_reaches_the_hip(skirt: Garment) -> None:
    """A hip 6 1/2 in down takes a zip of 7 in, as sold; one 9 1/2 in down one of 10 in."""
    assert skirt.trims
    for deep, sold in ((6.5, 7), (9.5, 10)):
        style = skirt.style()
        drafted = skirt.draft(replace(BODY, hip_depth=inches(deep)), style)
        (closure,) = (trim for trim in skirt.trims(drafted, style) if trim.name == "zip")
        assert closure.sold == pytest.approx(sold * 25.4) and closure.count == 1
