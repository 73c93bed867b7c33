"""The order of sewing, in words, for machines and on paper."""

from __future__ import annotations

import json
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest

from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.errors import JobError
from reports.sew.draw import ON_A_PAGE, sewing_pages
from reports.sew.files import sewing_files
from reports.sew.sewing import sewing_lines, sewing_order, sewing_to_plain
from tests.make.model import MODEL

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran


def test_words_and_figures_agree() -> None:
    """As many numbered steps as there are; each with the seam of its edges, and cautions at the end."""
    job = parse_job(MODEL)
    order = sewing_order(job, draft_job(job))
    lines, plain = list(sewing_lines(order)), sewing_to_plain(order)
    titles = [line for line in lines if line[0].isdigit()]
    assert [line.split(". ")[1] for line in titles] == [step["title"] for step in plain["steps"]]
    shoulders = next(step for step in plain["steps"] if step["title"] == "Shoulders")
    assert {edge["allowance_mm"] for edge in shoulders["edges"]} == {12.7}
    assert "seam 1/2 in" in lines[lines.index(next(line for line in titles if "Shoulders" in line)) + 1]
    assert lines[-1].startswith("Iron") and lines[-2].startswith("Needle")


def test_pages(tmp_path: Path) -> None:
    """Some steps on each page; each page has its two files."""
    job = parse_job(MODEL)
    order = sewing_order(job, draft_job(job))
    pages = sewing_pages(order)
    assert (len(pages) - 1) * ON_A_PAGE < len(order.steps) <= len(pages) * ON_A_PAGE
    assert len(sewing_files(order, tmp_path)) == 2 + 2 * len(pages)
    words = [text.get_text() for page in pages for axes in page.axes for text in axes.texts]
    assert any("1. " in text for text in words)


def test_command(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """It writes all of them, and nothing over them unasked."""
    path = job_file(MODEL)
    assert run("sew", path, "--out", tmp_path / "made").code == 0
    assert {"sew.json", "sew.txt", "sew-1.pdf", "sew-1.png"} <= {one.name for one in (tmp_path / "made").iterdir()}
    again = run("sew", path, "--out", tmp_path / "made")
    assert (again.code, again.err.count("\n")) == (2, 1)
    assert json.loads(run("sew", path, "--json").out)["schema"] == 1


def test_imported_pieces_have_none() -> None:
    """Nobody knows how pieces of others are sewn: one line says so."""
    imported: Any = SimpleNamespace(title="a coat", garment="imported", model=lambda: SimpleNamespace(steps=None))
    with pytest.raises(JobError, match="no order of sewing is known"):
        sewing_order(imported, draft_job(parse_job(MODEL)))
