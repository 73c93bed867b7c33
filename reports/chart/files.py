"""Files of a curve, of a chart, and of changes that save cloth."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.chart.chart import chart_csv, chart_to_plain
from reports.chart.words import chart_lines
from reports.draw.kit.files import PICTURES
from reports.output import write_text

if TYPE_CHECKING:
    from pathlib import Path

    from reports.chart.chart import Chart


def chart_files(folder: Path) -> list[Path]:
    """The files of a chart."""
    return [folder / f"chart.{suffix}" for suffix in ("json", "csv", "txt", *PICTURES)]


def write_chart(chart: Chart, folder: Path) -> list[Path]:
    """Write a chart as JSON, as a table with commas, in words and as a picture; the files written."""
    from reports.chart.draw import chart_page
    from reports.draw.kit.files import save

    plain, table, text, *pictures = paths = chart_files(folder)
    write_text(plain, json.dumps(chart_to_plain(chart), indent=2) + "\n")
    write_text(table, chart_csv(chart))
    write_text(text, "\n".join(chart_lines(chart)) + "\n")
    figure = chart_page(chart)
    for path in pictures:
        save(figure, path)
    return paths
