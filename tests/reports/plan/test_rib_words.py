"""Where rib is joined, in words and for machines: plans made for real, answers read as text."""

from __future__ import annotations

import json
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest

from nesting.rib.band import RibBand, RibStock
from nesting.rib.planning import plan_rib
from pieces.length import inches
from reports.plan.plain import _rib
from reports.plan.words import how_cut

if TYPE_CHECKING:
    from nesting.rib.plan import RibPlan

INCH = 25.4
SIDES = (("right side seam", 0.3), ("centre back", 0.5), ("left side seam", 0.7))


def cut(band: RibBand, stock: RibStock) -> RibPlan:
    """A plan with seams of 1/2 in."""
    return plan_rib([band], stock, seam=inches(0.5))


def hem(*places: tuple[str, float]) -> RibBand:
    """A hem band of 50 in."""
    return RibBand("hem band", inches(50), inches(7), places=places)


@pytest.mark.parametrize(
    ("band", "width", "words"),
    [
        (hem(*SIDES), 40, "hem band joined once (at the centre back)"),
        (hem(*SIDES), 24, "hem band joined twice (at the right side seam, at the left side seam)"),
        (
            hem(("left", 0.95)),
            40,
            "hem band joined once (between seams); more of them at seams would take more rib or joins",
        ),
        (hem(), 40, "hem band joined once"),
        (hem(*SIDES), 60, "no joins"),
    ],
)
def test_where_joins_fall(band: RibBand, width: float, words: str) -> None:
    """Joins are named by what they meet; one that meets nothing says why; without joins there is nothing to say."""
    plan = cut(band, RibStock("tube", "tube", inches(width)))
    assert how_cut(plan) == f"the least possible, proved; {words}"


def test_some_at_seams() -> None:
    """A band joined at one seam and once between two is told so, and what is not proved is not claimed."""
    places = (("right side seam", 0.27), ("centre back", 0.5), ("left side seam", 0.73))
    words = how_cut(cut(hem(*places), RibStock("tube", "tube", inches(22))))
    assert "side seam, once between seams); more of them at seams would take more rib or joins" in words


def test_closed_tube_in_words() -> None:
    """A cuff that stays a closed tube is named."""
    cuff = RibBand("cuff", inches(9.5), inches(7), 2, ring=True)
    plan = cut(cuff, RibStock("cuffing", "tube", inches(8.5), closed=True))
    words = how_cut(plan)
    assert words == "the least possible, proved; no joins; cuff left a closed tube, without a seam"


def test_joins_for_machines() -> None:
    """JSON gives each join its band, the part before it, the distance from the start in mm, and what it meets."""
    plan = cut(hem(*SIDES), RibStock("tube", "tube", inches(40)))
    offer = SimpleNamespace(name="tube", form="tube", width=40 * INCH, selvedge=0.0, says_selvedge=True)
    answer: Any = SimpleNamespace(offer=offer, plan=plan, purchase=None, cost=None, text="")
    told = json.loads(json.dumps(_rib(answer)))
    (join,) = told["joined_at"]
    assert (join["band"], join["copy"], join["after_part"], join["place"]) == ("hem band", 1, 1, "centre back")
    assert join["at_mm"] == pytest.approx(24.5 * INCH)
    assert sorted(each["part"] for each in told["cuts"]) == [1, 2]
    assert told["most_at_places"] is True
