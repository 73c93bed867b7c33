"""Reports in Debian's Chromium: read on a telephone, and printed.

Near-empty: a page with less than a fifth of a page on it, by the words that pypdf finds and the pictures.
"""

from __future__ import annotations

import io
import os
from typing import TYPE_CHECKING, Any

import pytest
from pypdf import PdfReader

from reports.ask.job import parse_job
from reports.buy.report import plan_report
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from reports.run.report import run_report
from reports.sheets.html import html_page
from tests.make.browser import CHROMIUM, FLAGS, LEFT_OUT
from tests.make.model import MODEL, RIB, with_fabrics

if TYPE_CHECKING:
    from pathlib import Path

    from reports.run.plan import RunPlan

if not os.environ.get("ELLWAND_BROWSER"):
    pytest.skip(LEFT_OUT, allow_module_level=True)

PHONE = {"width": 360, "height": 780}

LEAST_WORDS = 60
"""On a page, where it has no picture: about a fifth of a page of tables."""

CLOTHS = [f'name = "cloth {n}"\nwidth = "{45 + n} in"\nprice = "12.00 / yd"' for n in range(6)]


def reports(the_run: RunPlan) -> dict[str, str]:
    """A short one, one of many cloths with a rib, and one of a run."""
    short = plan_report(plan_job(parse_job(MODEL, "job.toml"), Effort(0)))
    long = plan_report(plan_job(parse_job(with_fabrics(*CLOTHS, rib=RIB), "job.toml"), Effort(0)))
    return {"short": html_page(short), "long": html_page(long), "run": html_page(run_report(the_run))}


def test_on_a_telephone_and_on_paper(the_run: RunPlan, tmp_path: Path) -> None:
    """At 360 px nothing is cut off, each row is a card with its heads, what to buy and its cost come first.

    Printed on A4 or letter, no page is near-empty.
    """
    from playwright.sync_api import sync_playwright

    with sync_playwright() as started:
        browser = started.chromium.launch(executable_path=str(CHROMIUM), args=FLAGS)
        for name, text in reports(the_run).items():
            path = tmp_path / f"{name}.html"
            path.write_text(text, encoding="utf-8")
            page = browser.new_page(viewport=PHONE)  # type: ignore[arg-type]
            page.goto(path.as_uri())
            assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"], name
            told: Any = page.evaluate(
                "[...document.querySelectorAll('tbody td')].map(cell => [cell.getBoundingClientRect().right,"
                " getComputedStyle(cell, '::before').content, cell.textContent])"
            )
            assert all(right <= PHONE["width"] for right, _, _ in told), name
            assert all(head not in ("none", '""') for _, head, words in told if words), name
            first = page.evaluate("[...document.querySelectorAll('h3')].slice(0, 2).map(each => each.textContent)")
            assert first[0] in ("The cheapest of each", "Shopping list", "To buy"), name
            for paper in ("A4", "Letter"):
                printed = PdfReader(io.BytesIO(page.pdf(format=paper, prefer_css_page_size=True)))
                for sheet in printed.pages:
                    assert len(sheet.extract_text().split()) >= LEAST_WORDS or sheet.images, (name, paper)
            page.close()
        browser.close()
