"""The files of a curve."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.draw.kit.files import PICTURES
from reports.output import write_text
from reports.widths.widths import curve_to_plain
from reports.widths.words import curve_lines

if TYPE_CHECKING:
    from pathlib import Path

    from reports.widths.widths import WidthCurve


def curve_files(folder: Path) -> list[Path]:
    """The files of a curve."""
    return [folder / f"widths.{suffix}" for suffix in ("json", "txt", *PICTURES)]


def write_curve(curve: WidthCurve, folder: Path) -> list[Path]:
    """Write a curve as JSON, in words and as a picture; the files written."""
    from reports.draw.kit.files import save
    from reports.widths.draw import curve_page

    plain, text, *pictures = paths = curve_files(folder)
    write_text(plain, json.dumps(curve_to_plain(curve), indent=2) + "\n")
    write_text(text, "\n".join(curve_lines(curve)) + "\n")
    figure = curve_page(curve)
    for path in pictures:
        save(figure, path)
    return paths
