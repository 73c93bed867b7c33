"""Pages of tables: a table that ends at the foot of a page leaves no page empty behind it."""

from __future__ import annotations

from itertools import product

import pytest
from matplotlib.text import Text

from reports.draw.kit.listed import Listed, list_pages


@pytest.mark.parametrize("notes", [(), ("mind the blade",)])
def test_no_empty_page(notes: tuple[str, ...]) -> None:
    """Wherever the table ends: every page has a row of it, or the notes; and each row is there once."""
    for count, lines in product((21, 22), range(0, 8, 2)):
        rows = tuple((f"row {i}",) for i in range(count))
        told: list[str] = []
        for page in list_pages("Title", ["told"] * lines, [Listed("Head", ("what",), rows)], notes):
            words = [text.get_text() for text in page.findobj(Text)]
            own = [word for word in words if word.startswith("row ") or word in notes]
            assert own, (count, lines)
            told += own
        assert told == [*(row for (row,) in rows), *notes]
