"""The picture of what was read of a file."""

from __future__ import annotations

from pathlib import Path

from pieces.exchange.imported import ReadingChoices
from pieces.exchange.read.reader import import_pieces
from reports.draw.kit.files import drawn
from reports.draw.reading import PENS, reading_page

PATTERNS = Path(__file__).parents[2] / "pieces" / "exchange" / "patterns"


def test_every_line_is_told_apart_without_colour() -> None:
    """No two things are drawn alike in black and white: each has a style, a width or a sign of its own."""
    looks = [(str(pen.style), pen.width, pen.sign) for pen in PENS.values()]
    assert len(set(looks)) == len(looks)


def test_numbers_and_key() -> None:
    """Each closed outline has its number of the account in the picture; the key says how many there are of each."""
    account = import_pieces(PATTERNS / "pocket own.svg", ReadingChoices()).report.account
    page = drawn(reading_page(account, title="pocket"), "svg").decode()
    for entry in account.entries:
        if entry.kind == "closed outline":
            assert f">{entry.number}</text>" in page
    for place, many in account.places().items():
        assert f"{place}: {many}" in page
    assert f"in all {len(account.entries)}" in page


def test_nothing_to_see() -> None:
    """Words alone, and things far off, are drawn without a fault."""
    for name in ("plain office.svg", "loose out of PDF.svg", "lines geo.dxf"):
        found = import_pieces(PATTERNS / name, ReadingChoices(units="mm" if name.endswith("dxf") else None))
        assert drawn(reading_page(found.report.account, title=name), "png").startswith(b"\x89PNG")
