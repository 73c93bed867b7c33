"""Border prints in a job: what is asked of it, what is said of curved hems, and the purchase by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nesting.verify import verify_asked
from reports.ask.job import read_job
from reports.ask.wanted import asked_of
from reports.errors import JobError
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from reports.plan.problems import cut_from

if TYPE_CHECKING:
    from pathlib import Path

JOB = """
units = "in"
garment = "gathered-skirt"

[body]
waist = "28 in"
hip = "38 in"

[[fabric]]
name = "lawn"
width = "45 in"
selvedge = "1/2 in"
spread = "best"
"""


def job(tmp_path: Path, *lines: str, garment: str = "gathered-skirt") -> Path:
    """A job of a skirt on a cloth with more said of it."""
    path = tmp_path / "job.toml"
    path.write_text(JOB.replace("gathered-skirt", garment) + "\n".join(lines))
    return path


def test_panels_side_by_side(tmp_path: Path) -> None:
    """Panels with their hems on the border lie one behind another, so that the marker is as long as both are wide."""
    asked = read_job(job(tmp_path, 'border = "2 in"', 'border_edges = ["hem"]'))
    plan = plan_job(asked, Effort(0.1), rib=False)
    ((_, fabric),) = plan.markers
    panels = [piece for piece in plan.pieces.of("shell") if any(edge.name == "hem" for edge in piece.edges)]
    assert fabric.spread == "open"
    assert fabric.result.marker.length == pytest.approx(sum(piece.width * piece.cut for piece in panels))
    verify_asked(
        fabric.result.marker, asked_of(asked.fabric[0], "open", cut_from(asked.fabric[0], asked, plan.pieces), 1)
    )


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (('border = "2 in"',), "a border needs both"),
        (('border_edges = ["hem"]',), "a border needs both"),
        (('border = "50 in"', 'border_edges = ["hem"]'), "border lies beyond the cloth"),
        (
            ('border = "2 in"', 'border_edges = ["bottom"]'),
            "no piece of this cloth has an edge 'bottom': choose of hem",
        ),
        (('border = "2 in"', 'border_edges = ["hem", "waist"]'), "'tier 1' has .*hem.*, and only one can lie on"),
    ],
)
def test_refused(tmp_path: Path, lines: tuple[str, ...], says: str) -> None:
    """What is half said, or names no edge, is refused in a line."""
    with pytest.raises(JobError, match=says):
        plan_job(read_job(job(tmp_path, *lines)), Effort(0.1), rib=False)


def test_a_curved_hem_is_named(tmp_path: Path) -> None:
    """A gore's hem is an arc, which leaves the border: it is said by how much."""
    asked = read_job(job(tmp_path, 'border = "3 in"', 'border_edges = ["hem"]', garment="gored-skirt"))
    plan = plan_job(asked, Effort(0.1), rib=False)
    assert any("its edge 'hem' is curved: it touches the border" in line for line in plan.remarks)
    for _, fabric in plan.markers:
        for placement, item, way, _ in fabric.result.marker.outlines():
            assert item.piece and way.transform
            if not item.piece.border:
                continue
            (fold,) = (line.points for line in item.piece.inner if line.kind == "line")
            assert float(way.transform(fold)[:, 1].min()) + placement.y == pytest.approx(3 * 25.4, abs=0.2)
