"""The dossier of a client: what stands in it, and that each page says what it is of."""

from __future__ import annotations

import json
from datetime import date
from typing import TYPE_CHECKING

from pypdf import PdfReader

from reports.ask.job import parse_job
from reports.dossier.pages import write_dossier
from reports.plan.costing import costing_of
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from tests.make.model import MODEL, RIB, with_fabrics

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

CLOTH = 'name = "rust twill"\nwidth = "60 in"\nspread = "folded"\nprice = "14 / yd"'
WORK = """
[[operation]]
name = "sewing"
minutes = 240
rate = "18.50 / h"

[pricing]
markup = 40
"""
HEADS = ("Cloth", "Body measurements", "Once sewn", "Everything to buy", "Cost sheet")


def test_all_that_a_client_needs(tmp_path: Path) -> None:
    """Body, pieces, marker, rib, list, sewing and cost; each page names the cloth, the day and its place.

    No table's head stands last on a page. The sums are those of the answer.
    """
    plan = plan_job(parse_job(with_fabrics(CLOTH, rib=RIB) + WORK), Effort(0))
    path = tmp_path / "dossier.pdf"
    number = write_dossier(plan, path, date(2026, 11, 29))
    pages = [page.extract_text().splitlines() for page in PdfReader(path).pages]
    assert len(pages) == number
    for i, lines in enumerate(pages, 1):
        foot = next(line for line in lines if "rust twill" in line and "29 November 2026" in line and "·" in line)
        assert foot.endswith(f"page {i} of {number}")
        body = [line for line in lines if line != foot and line.strip()]
        assert body[-1] not in HEADS
        for head in set(HEADS) & set(body):
            assert len(body) > body.index(head) + 2
    text = "\n".join("\n".join(lines) for lines in pages)
    assert [head for head in HEADS if head not in text] == []
    (_, fabric), (_, rib) = plan.markers[0], plan.rib_plans[0]
    for words in (f"Buy {fabric.purchase.text} of rust twill", f"Buy {rib.text}", "bust", "back", "order of sewing"):
        assert words in text
    costing = costing_of(plan)
    assert costing is not None
    assert f"{costing.cost.run.total:.2f}" in "\n".join(pages[-1])


def test_without_work(tmp_path: Path) -> None:
    """Where no work is counted there is no page for it: what is bought stands on the shopping list, which says so."""
    path = tmp_path / "dossier.pdf"
    write_dossier(plan_job(parse_job(with_fabrics(CLOTH, rib=RIB)), Effort(0)), path, date(2026, 11, 29))
    text = "\n".join(page.extract_text() for page in PdfReader(path).pages)
    assert text.count("Work and what is added to it are not counted.") == 1
    assert ": cost" not in text


def test_by_the_command(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """`print --what dossier` writes it; paper at full scale and a cloth's number are refused."""
    job = job_file(MODEL)
    ran = run("print", job, "--what", "dossier", "--json", "--effort", 0)
    assert (ran.code, ran.err) == (0, "")
    (file,) = json.loads(ran.out)["files"]
    assert len(PdfReader(tmp_path / file["file"]).pages) == file["pages"] > 3
    for option, value in (("--roll", "36 in"), ("--fabric", 1)):
        refused = run("print", job, "--what", "dossier", option, value, "--out", "elsewhere")
        assert refused.code == 2 and "leave" in refused.err
