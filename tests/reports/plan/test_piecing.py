"""Shapes pieced on cloth: what it holds across in each spread, each width and a remnant; answers pass their checks."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nesting.errors import NestingError
from nesting.fit.remnant import Remnant
from pieces.length import inches
from pieces.units import INCH, Units
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.batch.series import Series
from reports.plan.effort import Effort
from reports.plan.piecing import ClothAcross
from reports.plan.plan import plan_job
from reports.plan.problems import cut_from, whole_from

if TYPE_CHECKING:
    from reports.plan.answers import FabricPlan

SHAPES = """
[[shape]]
name = "throw"
kind = "rectangle"
length = "40 in"
width = "99 in"
seam = "1/2 in"
cut = 2

[[shape]]
name = "edging"
kind = "binding"
length = "100 in"
width = "1/2 in"
cut = 2
"""


def cloth(width: int, *more: str) -> str:
    """An entry for a cloth."""
    return "\n".join(("[[fabric]]", f'name = "{width} in"', f'width = "{width} in"', *more, ""))


@pytest.mark.parametrize(
    ("spread", "parts"), [("open", 2), ("folded", 4), ("crosswise", 2), ("tube", 4), ("double-folded", 8), ("best", 2)]
)
def test_by_spread(spread: str, parts: int) -> None:
    """100 in cut, on 60 in cloth of 1/2 in selvedges: open 59 in hold 2 parts, half of it 4; a tube has no selvedge."""
    selvedge = "0 in" if spread == "tube" else "1/2 in"
    text = SHAPES + cloth(60, f'spread = "{spread}"', f'selvedge = "{selvedge}"')
    job = parse_job(text.replace('width = "60 in"', 'opened = "60 in"') if spread == "tube" else text)
    (offer,) = job.fabric
    across = ClothAcross.of_offer(offer)
    assert across.parts(whole_from(offer, job, draft_job(job)))["throw"] == parts
    first = next(piece for piece in cut_from(offer, job, draft_job(job)) if piece.name.startswith("throw"))
    assert first.width <= max(room.across for room in across.rooms) + 1e-6


def test_each_cloth_for_itself() -> None:
    """On two cloths the same shape is pieced in different parts; every marker passes its check, whole or in parts."""
    text = (
        SHAPES + cloth(110, 'spread = "open"', 'selvedge = "0 in"') + cloth(45, 'spread = "open"', 'selvedge = "0 in"')
    )
    plan = plan_job(parse_job(text), Effort())
    assert [number for number, _ in plan.markers] == [1, 2]
    names = [[item.name for item in fabric.result.marker.problem.items] for _, fabric in plan.markers]
    assert names == [["throw", "edging"], ["throw", "edging"]]
    counts = [
        {item.name: item.quantity * item.yields for item in fabric.result.marker.problem.items}
        for _, fabric in plan.markers
    ]
    assert counts == [{"throw": 2, "edging": 2}, {"throw": 6, "edging": 4}]
    assert [line for line in plan.remarks if line.startswith("throw")] == [
        "throw: on 45 in pieced of 3 parts, cut 3 of 41 in × 34 in, joined by 2 seams with allowances of 1/2 in"
    ]


def test_shrinks_after() -> None:
    """Cloth that is cut before it is washed holds less: parts of 50 1/2 in take 52.6 in where it loses 4 percent."""
    more = ('spread = "open"', 'selvedge = "0 in"', "shrinkage_across = 4", 'washed = "after"')
    for width, parts in ((53, 2), (52, 3)):
        job = parse_job(SHAPES + cloth(width, *more))
        across = ClothAcross.of_offer(job.fabric[0])
        assert across.parts(draft_job(job).pieces)["throw"] == parts


def test_remnant() -> None:
    """A remnant holds what is between its selvedges, folded half of that."""
    remnant = Remnant(inches(52), inches(80), selvedge=inches(0.5))
    pieces = draft_job(parse_job(SHAPES)).pieces
    for spread, parts in (("open", 2), ("folded", 5)):
        across = ClothAcross.of_remnant(remnant, (spread,), 0.0)  # type: ignore[arg-type]
        assert across.parts(pieces)["throw"] == parts
    (line, *_) = across.lines(pieces, "the remnant", Units.INCHES)
    assert line.startswith("throw: on the remnant pieced of 5 parts, cut 5 of 41 in × ")


def test_by_width() -> None:
    """In a series of widths each width has its own parts."""
    job = parse_job(SHAPES + cloth(60, 'spread = "open"', 'selvedge = "0 in"'))
    (offer,) = job.fabric
    series = Series(whole_from(offer, job, draft_job(job)), offer, [45 * INCH, 60 * INCH, 110 * INCH])
    counts = [next(piece.cut for piece in one.pieces if piece.name == "throw") for one in series.settled]
    assert counts == [6, 4, 2]


def test_a_spread_that_would_piece_otherwise_says_so() -> None:
    """Of all spreads 100 in on 59 in are 2 parts, folded alone 4: that is the reason, and alone it is really laid."""
    throw, now = SHAPES.partition("\n\n")[0] + "\n", Effort(0, proof=0)

    def laid_in(spread: str, shapes: str) -> FabricPlan:
        plan = plan_job(parse_job(shapes + cloth(60, f'spread = "{spread}"', 'selvedge = "1/2 in"')), now)
        return plan.markers[0][1]

    def why_not_folded(shapes: str) -> str:
        return {way.spread: way.reason for way in laid_in("best", shapes).passed_over}["folded"]

    assert why_not_folded(throw) == "it takes 'throw' in 4 parts, not 2: write spread = \"folded\" to have it laid so"
    laid = laid_in("folded", throw)
    assert (laid.spread, laid.result.marker.problem.items[0].name) == ("folded", "throw")
    said = "'throw' in 4 parts, not 2 and 'edging' in 3 parts, not 2; even so, 'edging' is cut 6 times"
    assert said in why_not_folded(SHAPES)


def test_a_refused_part_is_named() -> None:
    """A shape cut once, of 3 parts on folded cloth, is refused with the number of its parts."""
    text = SHAPES.replace("cut = 2", "cut = 1").replace("99 in", "60 in")
    with pytest.raises(NestingError, match=r"'throw' is cut 3 times, .*\('throw' is 1 of 3 parts, joined by 2 seams\)"):
        plan_job(parse_job(text + cloth(45, 'spread = "folded"', 'selvedge = "1/2 in"')), Effort(0, proof=0))
