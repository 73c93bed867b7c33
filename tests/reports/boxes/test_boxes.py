"""Boxes beside outlines: purchases worked out by hand, what boxes hold, and what is refused."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
import shapely

from nesting.errors import SpreadError
from nesting.problem.lay import lay_pieces
from pieces.units import INCH, Units
from reports.ask.job import parse_job
from reports.boxes.box import BoxAsked, boxes_of
from reports.boxes.boxes import BoxesAsked, compare_boxes
from reports.boxes.plain import boxes_to_plain
from reports.boxes.words import boxes_cells, boxes_lines
from reports.errors import JobError
from reports.plan.answers import FabricPlan
from reports.plan.effort import Effort
from tests.make.cloth import back, front, patch
from tests.make.model import MODEL

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.boxes.boxes import Boxes
    from tests.reports.conftest import Ran

SHAPE = '[[shape]]\nname = "{}"\nkind = "rectangle"\nlength = "{} in"\nwidth = "{} in"\ncut = {}\nseam = "0 in"\n'
CLOTH = '[[fabric]]\nname = "canvas"\nwidth = "60 in"\nselvedge = "1/2 in"\nend_allowance = "0 in"\nprice = "8 / yd"\n'
BODY = SHAPE.format("back", 28, 27, 1) + SHAPE.format("front", 28, 14, 2) + SHAPE.format("sleeve", 20, 24, 2)
GORE = '[[shape]]\nname = "gore"\nkind = "gore"\ntop = "4 in"\nbottom = "10 in"\nlength = "10 in"\ncut = {}\n'


NOW = Effort(0, proof=0)
"""First layouts alone."""


def boxed(job: str, *boxes: str, spread: str = "open") -> Boxes:
    """A job's boxes on its cloth, by first layouts."""
    text = f'units = "in"\n{job}{CLOTH}spread = "{spread}"\n'
    return compare_boxes(BoxesAsked(parse_job(text), tuple(map(BoxAsked.parse, boxes))), NOW)


def test_body_and_two_sleeves() -> None:
    """A body box of 28 × 55 in and two of 20 × 24 in (common practice, no source): 28 + 20 = 48 in, so 1 3/8 yd."""
    found = boxed(BODY, "back + front: 28 in x 55 in", "sleeve: 20 in x 24 in")
    (cloth,) = found.cloths
    assert isinstance(cloth.by_boxes, FabricPlan) and isinstance(cloth.by_outlines, FabricPlan)
    assert cloth.by_boxes.result.marker.length == pytest.approx(48 * INCH)
    assert cloth.by_boxes.purchase.text == "1 3/8 yd"
    assert cloth.by_outlines.result.marker.length <= 48 * INCH + 0.01
    assert boxes_cells(found)[1:] == [
        ("canvas", "back + 2 front", "1", "28 in", "55 in"),
        ("canvas", "sleeve", "2", "20 in", "24 in"),
    ]
    body = cloth.boxes[0].piece
    held = [shapely.Polygon(line.points) for line in body.inner]
    assert sum(one.area for one in held) == pytest.approx(28 * 55 * INCH**2)
    assert all(shapely.Polygon(body.cut_line).buffer(0.02).covers(one) for one in held)
    assert shapely.unary_union(held).area == pytest.approx(28 * 55 * INCH**2)  # so none overlaps another


def test_what_boxes_cost() -> None:
    """Two boxes of 40 × 40 in on 59 in take 80 in, 2 1/4 yd; two squares of 20 in take 20 in, 5/8 yd: 13.00 more."""
    found = boxed(SHAPE.format("square", 20, 20, 2), "square: 40 in x 40 in")
    (cloth,) = found.cloths
    assert boxes_to_plain(found)["cloths"][0]["more_mm"] == pytest.approx((2.25 - 0.625) * 36 * INCH)
    assert float(cloth.more_cost or 0) == 13
    assert "  Boxes take 1 5/8 yd, and 13.00, more." in list(boxes_lines(found))


def test_hands_are_kept() -> None:
    """Folded cloth cuts a left and a right of a box: no use where both are to lie the same way up, as for outlines."""
    offer = parse_job(f'units = "in"\n{BODY}{CLOTH}').fabric[0]
    half, pair, alike = (box.piece for box in boxes_of([back(), front(), patch(2)], (), offer, NOW, Units.INCHES))
    assert half.on_fold and half.width == pytest.approx(2 * 150, abs=2 * INCH / 8)  # 150 mm from the fold
    assert len(lay_pieces([half, pair], offer.fabric(), "folded").items) == 2
    with pytest.raises(SpreadError, match="all the same way up"):
        lay_pieces([alike], offer.fabric(), "folded")


@pytest.mark.parametrize(
    ("box", "why"),
    [
        ("gore: 10 in", "write pieces, then length along the grain x width"),
        ("gore: 10 x 9", "a length needs its unit|unit"),
        ("gore: 0 in x 9 in", "more than 0"),
        ("gore: 9000 m x 9 in", "a box is 100 yd long or wide at the most"),
        ("0 gore: 20 in x 20 in", "a box holds 1 or more of a piece, not 0 gore"),
        ("flap: 20 in x 20 in", "there is no piece 'flap': choose gore"),
        ("gore: 20 in x 9 in", "'gore' takes .* along the grain x .*: give the box that much or more"),
        ("3 gore: 20 in x 60 in", "whole boxes must give all pieces"),
        ("4 gore: 12 in x 12 in", "proved too small: the pieces take .* % of it"),
        ("4 gore: 5 in x 80 in", "proved too short: the pieces need a length of"),
        ("4 gore: 60 in x 3 in", "across"),
    ],
)
def test_refused(box: str, why: str) -> None:
    """What cannot be read, and a box that does not hold its pieces, are refused in one line with the figure."""
    with pytest.raises(JobError, match=why) as refused:
        boxed(GORE.format(4), box)
    assert "\n" not in str(refused.value)


def test_command(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """A jacket has a box about each piece, that of the back on the fold; all files are written."""
    job = job_file(MODEL)
    said = run("boxes", job, "--effort", 0, "--out", "b")
    assert said.code == 0, said.err
    assert {path.suffix for path in (job.parent / "b").glob("boxes-1.*")} == {".svg", ".png", ".pdf"}
    assert (
        (job.parent / "b" / "boxes.txt")
        .read_text(encoding="utf-8")
        .splitlines()[1]
        .startswith("navy twill, wide  back")
    )
