"""Words from right to left on paper."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from pypdf import PdfReader

from reports.paper.drawing import KeptDrawing
from reports.paper.pdf import Pdf
from reports.paper.script import as_printed

if TYPE_CHECKING:
    from pathlib import Path

SHALOM = "\u05e9\u05dc\u05d5\u05dd"
"""A word of four letters, the first of which stands rightmost on paper."""


@pytest.mark.parametrize(
    ("words", "seen"),
    [
        ("front (left)", "front (left)"),
        (SHALOM, SHALOM[::-1]),
        (f"3  {SHALOM}, cut 2", f"3  {SHALOM[::-1]}, cut 2"),
        (f"{SHALOM} {SHALOM[:2]}", f"{SHALOM[:2][::-1]} {SHALOM[::-1]}"),
        ("\u05d0(\u05d1)\u05d2", "\u05d2(\u05d1)\u05d0"),
        ("\u05e9\u05b8\u05dc", "\u05dc\u05e9\u05b8"),
        ("", ""),
    ],
)
def test_order_of_signs(words: str, seen: str) -> None:
    """By hand: what runs to the left is turned, the rest stays; marks stay on their letters."""
    assert as_printed(words) == seen


def test_a_print_reads_as_it_was_written(tmp_path: Path) -> None:
    """By pypdf, which turns what runs to the left back as it finds it on the page."""
    page = KeptDrawing()
    page.text(10, 10, f"1  {SHALOM}", 12)
    pdf = Pdf(tmp_path / "p.pdf", "words", {})
    pdf.begin(100, 50)
    pdf.paint(page, (0, 0, 100, 50), (0, 0))
    pdf.end()
    pdf.save()
    assert SHALOM in PdfReader(tmp_path / "p.pdf").pages[0].extract_text()
