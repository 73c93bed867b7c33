"""Markers at full scale: every piece where the marker has it, the cloth's length down the paper."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from shapely import LinearRing

from pieces import Units
from reports.ask.job import parse_job
from reports.errors import PaperError
from reports.paper.book import write_pdf
from reports.paper.plot import cloth_paper, draw_marker, marker_head
from reports.paper.size import parse_paper
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from tests.make.model import edited, with_fabrics
from tests.make.readback import read_pages
from tests.reports.paper.test_tiles import cut_lines, together

if TYPE_CHECKING:
    from pathlib import Path

    from nesting.marker.marker import Marker

NEAR = 0.42
"""How far a curve may lie from the chords that were checked, mm: 0.21, and once more as they are moved by boxes."""


def laid(text: str) -> Marker:
    """The marker of a job's only cloth, a first layout."""
    plan = plan_job(parse_job(text), Effort(0), rib=False)
    ((_, fabric),) = plan.markers
    return fabric.result.marker


def turned(marker: Marker) -> list[LinearRing]:
    """The marker's outlines, its length downwards."""
    return [shapely.LinearRing(outline[:, ::-1] * (1, -1)) for _, _, _, outline in marker.outlines()]


def moved_to(shapes: Any, corner: Any) -> Any:
    """Shapes with the lower left corner of all at a point."""
    low = shapely.total_bounds(shapes)[:2]
    return shapely.affinity.translate(shapely.union_all(shapes), *(corner - low))


@pytest.mark.parametrize(
    ("spread", "cloth", "laid_inches"),
    [
        ("folded", "60 in", 30),
        ("open", "60 in", 60),
        ("part-folded", "60 in", None),
        ("fold-then-open", "48 in", 48),
        ("double-folded", "100 in", 50),
        ("crosswise", "60 in", 60),
    ],
)
def test_cloth_wide_plot(tmp_path: Path, spread: str, cloth: str, laid_inches: int | None) -> None:
    """A page is as wide as the laid cloth with its selvedges; cut lines lie as in the marker; no sew line is drawn."""
    back = "seam" if spread == "crosswise" else "fold"
    changes = (('spread = "folded" ', f'spread = "{spread}" '), ('back = "fold" ', f'back = "{back}" '))
    text = edited(*changes, ('width = "60 in"', f'width = "{cloth}"'))
    marker = laid(text)
    paper, box = cloth_paper(marker)
    path = tmp_path / "it.pdf"
    write_pdf(
        path,
        draw_marker(marker, Units.INCHES, sewn=False),
        paper,
        marker_head("test", "it", Units.INCHES, sewn=False),
        box,
    )
    (page,) = read_pages(path)
    if laid_inches:
        assert page.width == pytest.approx(laid_inches * 25.4, abs=0.01)
    found = shapely.union_all([line.seen for line in cut_lines(page.lines)])
    wanted = moved_to(turned(marker), np.array(found.bounds[:2]))
    assert wanted.buffer(NEAR).covers(found) and found.buffer(NEAR).covers(wanted)
    assert not [line for line in page.lines if line.dashes and line.grey]
    assert page.height == pytest.approx(marker.length + 150, abs=50)


def test_marker_on_sheets(tmp_path: Path) -> None:
    """A marker on A3 is whole when its sheets are glued; edges that are folds are heavier than selvedges."""
    marker, path = laid(edited()), tmp_path / "it.pdf"
    drawing = draw_marker(marker, Units.METRIC)
    done = write_pdf(path, drawing, parse_paper("a3"), marker_head("test", "it", Units.INCHES))
    pages = read_pages(path)
    found = together(done, pages)
    wanted = moved_to(turned(marker), np.array(found.bounds[:2]))
    assert wanted.buffer(NEAR).covers(found) and found.buffer(NEAR).covers(wanted)
    fold = together(done, pages, lambda lines: [line for line in lines if line.width > 1])
    assert fold.length == pytest.approx(marker.length, abs=1)
    assert "Fold of the cloth".lower() in pages[0].text


def test_narrow_cloth_is_refused() -> None:
    """Cloth that lies narrower than the test squares cannot be a roll."""
    marker = laid(with_fabrics('width = "8 in"\nspread = "open"\nselvedge = "0 in"\npieces = ["front facing"]'))
    with pytest.raises(PaperError, match="--paper"):
        cloth_paper(marker)
