"""Prices, rates and minutes that are examples are marked wherever a cost or a quote follows from them."""

from __future__ import annotations

import io
import json
from typing import TYPE_CHECKING

import pypdf
import pytest

from reports.ask.order.examples import examples_of
from reports.ask.order.order import parse_order
from reports.draw.kit.files import save
from reports.draw.quote import quote_page
from reports.errors import JobError
from reports.run.plain import run_to_plain
from reports.run.report import run_report
from reports.run.words import run_parts
from tests.make.orders import changed, ordered, planned

if TYPE_CHECKING:
    from pathlib import Path

    from reports.run.plan import RunPlan

MARK = "EXAMPLE, not to be sent"
MINE = (r"^examples = .*$", "examples = []")


def lines_of(run: RunPlan) -> list[str]:
    """The lines that the command prints, tables left out."""
    return [part for part in run_parts(run) if isinstance(part, str)]


def words_of_pdf(run: RunPlan, folder: Path) -> str:
    """What a reader of PDF (pypdf) finds written on the quote."""
    save(quote_page(run.costing.quote), folder / "quote.pdf")
    return " ".join(pypdf.PdfReader(io.BytesIO((folder / "quote.pdf").read_bytes())).pages[0].extract_text().split())


def test_the_template_says_so(tmp_path: Path) -> None:
    """What `new --run` writes is full of examples: its quote on paper, its words, report and JSON all say so."""
    run = planned()
    plain = json.loads(json.dumps(run_to_plain(run)))
    assert plain["examples"] == ["fabric", "rib", "trim", "operation", "cutting", "pricing"]
    assert plain["quote"]["confirmed"] is False
    assert len(plain["quote"]["examples"]) == 6
    assert any(line.startswith(MARK) for line in lines_of(run))
    assert MARK in words_of_pdf(run, tmp_path)
    assert MARK in str(run_report(run))


def test_all_confirmed(tmp_path: Path) -> None:
    """Once the list is empty, or left out, nothing is marked."""
    run = planned(MINE)
    plain = run_to_plain(run)["quote"]
    assert (plain["confirmed"], plain["examples"]) == (True, [])
    assert not any(line.startswith(MARK) for line in lines_of(run))
    assert MARK not in words_of_pdf(run, tmp_path)
    assert parse_order(changed((r"^examples = .*$", ""))).examples == ()


def test_one_by_one() -> None:
    """Rates are confirmed one by one; those left are named with their values."""
    order = ordered((r"^examples = .*$", 'examples = ["pricing.rate", "pricing.markup", "trim"]'))
    assert examples_of(order) == ("rate 19.00 / h", "markup 45 %", "trims and their prices")


@pytest.mark.parametrize("name", ["prices", "pricing.wage", "style", "pricing.rate.more"])
def test_no_such_example(name: str) -> None:
    """What can be no example is refused in one line."""
    with pytest.raises(JobError, match="cannot be an example: name one of cutting, fabric"):
        ordered((r"^examples = .*$", f'examples = ["{name}"]'))
