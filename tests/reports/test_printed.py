"""Tables and lines as text."""

from __future__ import annotations

from rich.table import Table

from reports.printed import cells_table, printed


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
