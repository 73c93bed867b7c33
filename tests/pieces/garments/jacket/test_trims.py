"""What a rib jacket needs besides cloth and rib."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.garments.jacket.trims import closing_edge, jacket_trims

if TYPE_CHECKING:
    from pieces.garments import JacketStyle
    from pieces.trims.trim import TrimNeeded

JACKET = GARMENTS["rib-jacket"]


def needed(body: Body, style: JacketStyle) -> dict[str, TrimNeeded]:
    """Trims by name."""
    assert JACKET.trims
    return {trim.name: trim for trim in JACKET.trims(JACKET.draft(body, style), style)}


def test_closures(body: Body, style: JacketStyle) -> None:
    """Buttons, a zip of at least the finished edge, or neither; the edge is the front's with both bands."""
    drafted = JACKET.draft(body, style)
    edge = drafted["front"].edge("front edge").length + style.rib_depth + style.neck_rib_depth
    assert closing_edge(drafted, style) == pytest.approx(edge)
    buttoned, zipped = needed(body, style), needed(body, replace(style, closure="zip"))
    assert "separating zip" not in buttoned and buttoned["buttons or snaps"].needed == pytest.approx(edge)
    assert "buttons or snaps" not in zipped and zipped["separating zip"].sold >= zipped["separating zip"].needed
    assert {"thread", "overlock thread", "label"} == set(needed(body, replace(style, closure="none", facing="none")))


def test_a_seam_more_takes_more_thread(body: Body, style: JacketStyle) -> None:
    """A centre back seam takes thread of its length: 2.8 times, and 15 % to spare."""
    with_seam = replace(style, back="seam")
    more = needed(body, with_seam)["thread"].needed - needed(body, style)["thread"].needed
    assert more == pytest.approx(JACKET.draft(body, with_seam)["back"].edge("centre back").length * 2.8 * 1.15, abs=1.5)


def test_what_is_interfaced(body: Body, style: JacketStyle) -> None:
    """The area of the facings, all of them; none where there is no facing, or interfacing is drafted."""
    drafted = JACKET.draft(body, style)
    faced = [piece for piece in drafted if "facing" in piece.name]
    area = sum(shapely.Polygon(piece.unfolded).area * piece.cut for piece in faced)
    assert needed(body, style)["interfacing"].area == pytest.approx(area)
    lined = replace(drafted, pieces=(*drafted.pieces, replace(faced[0], name="stiff", material="interfacing")))
    assert "interfacing" not in {trim.name for trim in jacket_trims(lined, style)}


@pytest.mark.parametrize("closure", ["buttons", "zip"])
def test_a_grown_on_facing_closes_as_high_as_a_separate_one(closure: str, body: Body, style: JacketStyle) -> None:
    """The front folds where the other ends: both closures are of one length, to a hair of the neckline."""
    asked = replace(style, closure=closure)  # type: ignore[arg-type]
    lengths = [closing_edge(JACKET.draft(body, each), each) for each in (asked, replace(asked, facing="grown-on"))]
    assert lengths[1] == pytest.approx(lengths[0], abs=0.01)
    assert needed(body, replace(asked, facing="grown-on"))
