"""The files of an answer to what is left."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.left.plain import left_to_plain
from reports.left.words import left_cells, left_lines
from reports.output import write_text

if TYPE_CHECKING:
    from pathlib import Path

    from reports.left.left import Left

FILES = ("left.json", "left.pdf", "left.png", "left.svg", "left.txt")


def write_left(found: Left, folder: Path) -> list[Path]:
    """Write the answer, and a drawing of the marker with what is left; the files written."""
    from reports.draw.kit.files import save
    from reports.left.draw import left_page

    plain, *pictures, text = (folder / name for name in FILES)
    write_text(plain, json.dumps(left_to_plain(found)))
    figure = left_page(found)
    for path in pictures:
        save(figure, path)
    write_text(text, "\n".join([*map("  ".join, left_cells(found)), "", *left_lines(found)]) + "\n")
    return [plain, *pictures, text]
