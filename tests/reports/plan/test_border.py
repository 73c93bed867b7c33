"""Border prints in a job: what is asked of it, what is said of curved hems, and the purchase by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nesting.verify import verify_asked
from pieces.body.sizes import find_table
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


def test_a_knit_is_refused(tmp_path: Path) -> None:
    """Across the cloth a T-shirt's stretch would run up and down the body."""
    text = JOB.replace("gathered-skirt", "t-shirt").partition("[body]")
    body = "".join(f'{name} = "{size!r} mm"\n' for name, size in find_table("women").body("92").measurements().items())
    cloth = text[2].partition("[[fabric]]")[2] + 'border = "3 in"\nborder_edges = ["hem"]\n'
    path = tmp_path / "job.toml"
    path.write_text(f"{text[0]}[body]\n{body}[[fabric]]\n{cloth}")
    with pytest.raises(JobError, match="lies across the cloth, and a knit's stretch must run round the body"):
        plan_job(read_job(path), Effort(0.1), rib=False)


def test_a_ring_is_too_curved(tmp_path: Path) -> None:
    """One point of a full circle's hem touches the border: it is refused."""
    path = job(tmp_path, 'border = "2 in"', 'border_edges = ["hem"]', garment="circle-skirt")
    path.write_text(path.read_text().replace('"best"', '"open"') + '\n[style]\nlength = "12 in"\npanels = "1"\n')
    with pytest.raises(JobError, match=r"'hem' of .* is too curved to lie on a border"):
        plan_job(read_job(path), Effort(0.1), rib=False)


def test_the_border_shrinks_as_the_cloth_does(tmp_path: Path) -> None:
    """Of cloth that loses a tenth of its width before it is cut, a border bought at 2 in lies at 1.8 in."""
    lines = 'border = "2 in"', 'border_edges = ["hem"]', "shrinkage_across = 10"
    (offer,) = read_job(job(tmp_path, *lines)).fabric
    assert offer.fabric().border == pytest.approx(1.8 * 25.4)
    assert offer.model_copy(update={"washed": "after"}).fabric().border == pytest.approx(2 * 25.4)


def test_lies_against_a_border(tmp_path: Path) -> None:
    """What lies on the border cannot be told to lie otherwise."""
    lines = 'border = "2 in"', 'border_edges = ["hem"]', 'lies = { "tier 1" = "cross" }'
    with pytest.raises(JobError, match="'tier 1' lies with its edge on the border: leave it out of lies"):
        plan_job(read_job(job(tmp_path, *lines)), Effort(0.1), rib=False)


def test_nothing_to_match_is_told(tmp_path: Path) -> None:
    """A skirt has no match points: on checks it is said that nothing is matched."""
    plan = plan_job(read_job(job(tmp_path, 'repeat_along = "4 in"')), Effort(0.1), rib=False)
    assert "lawn: its pieces have no match points, so nothing is matched on its pattern" in plan.remarks


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
