"""The files of an order of sewing: its steps in words and for machines, and pages to print."""

from __future__ import annotations

import json
from math import ceil
from typing import TYPE_CHECKING

from reports.output import write_text
from reports.sew.sewing import sewing_lines, sewing_to_plain

if TYPE_CHECKING:
    from pathlib import Path

    from reports.sew.sewing import SewingOrder


def sewing_files(order: SewingOrder, folder: Path) -> list[Path]:
    """All files that `write_sewing` writes."""
    from reports.sew.draw import ON_A_PAGE

    pages = range(1, ceil(len(order.steps) / ON_A_PAGE) + 1)
    drawings = (f"sew-{n}.{kind}" for n in pages for kind in ("pdf", "png"))
    return [folder / name for name in ("sew.json", "sew.txt", *drawings)]


def write_sewing(order: SewingOrder, folder: Path) -> list[Path]:
    """Write the steps, and a drawing of each on pages; the files written."""
    from reports.draw.kit.files import save
    from reports.sew.draw import sewing_pages

    plain, text, *drawings = sewing_files(order, folder)
    _write_steps(order, plain, text)
    for i, page in enumerate(sewing_pages(order)):
        for path in drawings[2 * i : 2 * i + 2]:
            save(page, path)
    return [plain, text, *drawings]


BOUND = ("sew.pdf", "sew.txt", "sew.json")
"""The same with all drawings in one file."""


def write_bound(order: SewingOrder, folder: Path) -> None:
    """Write the steps, and their drawings as the pages of one PDF."""
    from reports.draw.kit.files import save_pages
    from reports.sew.draw import sewing_pages

    drawings, text, plain = (folder / name for name in BOUND)
    _write_steps(order, plain, text)
    save_pages(sewing_pages(order), drawings)


def _write_steps(order: SewingOrder, plain: Path, text: Path) -> None:
    write_text(plain, json.dumps(sewing_to_plain(order), indent=2) + "\n")
    write_text(text, "\n".join(sewing_lines(order)) + "\n")
