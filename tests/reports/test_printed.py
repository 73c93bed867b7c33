"""Tables and lines as text."""

from __future__ import annotations

from rich.table import Table

from reports.printed import WIDEST, cells_table, fitted_tables, printed


def test_lines_are_as_they_are() -> None:
    """However long, and whatever looks like markup in them; no space at an end of a line."""
    text = "x" * 300 + " [bold]  "
    assert printed(text, "b") == f"{text.rstrip()}\nb\n"


def test_a_table_stands_with_a_line_below() -> None:
    """Its cells are there, without colours."""
    table = Table("piece", "cut")
    table.add_row("sleeve", "2")
    text = printed(table, "end")
    assert "sleeve" in text and "\x1b" not in text
    assert text.endswith("\n\nend\n")


def test_cells_as_a_table() -> None:
    """The first line has the headings; markup in a cell is shown."""
    assert printed(cells_table("Pieces", [("piece", "cut"), ("[b]", "2")])).split() == [
        "Pieces",
        "piece",
        "cut",
        "[b]",
        "2",
    ]


def test_no_line_is_wider_than_a_page() -> None:
    """Thirteen clients in two colours: rows for columns, with every number; more columns than fit go on below."""
    clients = [f"client {number} with a long name" for number in range(13)]
    grid = [("colour", *clients), *((colour, *map(str, range(100, 113))) for colour in ("rust", "navy"))]
    text = printed(*fitted_tables("Garments", grid, turned="client"), "word " * 60, wide=WIDEST)
    assert max(map(len, text.splitlines())) <= WIDEST
    assert "client 12 with a long name   112   112" in text
    wide = [("a", *(f"column {number:02}" for number in range(30))) for _ in range(2)]
    parts = list(fitted_tables("Wide", [*wide, *wide * 20], turned="b"))
    text = printed(*parts, wide=WIDEST)
    assert len(parts) > 1 and max(map(len, text.splitlines())) <= WIDEST
    assert all(f"column {number:02}" in text for number in range(30))
