"""Files of a curve, of a chart, and of changes that save cloth."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.chart import chart_csv, chart_to_plain
from reports.chart_words import chart_lines
from reports.folder import PICTURES
from reports.output import write_text
from reports.saves import SCATTER, savings_to_plain
from reports.width_words import curve_lines
from reports.widths import curve_to_plain

if TYPE_CHECKING:
    from pathlib import Path

    from reports.chart import Chart
    from reports.job import Job
    from reports.saves import Saving
    from reports.widths import Curve


def curve_files(folder: Path) -> list[Path]:
    """The files of a curve."""
    return [folder / f"widths.{suffix}" for suffix in ("json", "txt", *PICTURES)]


def chart_files(folder: Path) -> list[Path]:
    """The files of a chart."""
    return [folder / f"chart.{suffix}" for suffix in ("json", "csv", "txt", *PICTURES)]


def saving_files(folder: Path) -> list[Path]:
    """The files of changes that save cloth."""
    return [folder / f"saves.{suffix}" for suffix in ("json", *PICTURES)]


def write_curve(curve: Curve, folder: Path) -> list[Path]:
    """Write a curve as JSON, in words and as a picture; the files written."""
    from reports.draw.files import save
    from reports.draw.widths import curve_page

    plain, text, *pictures = paths = curve_files(folder)
    write_text(plain, json.dumps(curve_to_plain(curve), indent=2) + "\n")
    write_text(text, "\n".join(curve_lines(curve)) + "\n")
    figure = curve_page(curve)
    for path in pictures:
        save(figure, path)
    return paths


def write_chart(chart: Chart, folder: Path) -> list[Path]:
    """Write a chart as JSON, as a table with commas, in words and as a picture; the files written."""
    from reports.draw.chart import chart_page
    from reports.draw.files import save

    plain, table, text, *pictures = paths = chart_files(folder)
    write_text(plain, json.dumps(chart_to_plain(chart), indent=2) + "\n")
    write_text(table, chart_csv(chart))
    write_text(text, "\n".join(chart_lines(chart)) + "\n")
    figure = chart_page(chart)
    for path in pictures:
        save(figure, path)
    return paths


def write_savings(found: list[Saving], job: Job, fabric: int, folder: Path) -> list[Path]:
    """Write what each change on a cloth, counted from 1, saves, as JSON and as a picture; the files written."""
    from reports.draw.files import save
    from reports.draw.saves import savings_page

    plain, *pictures = paths = saving_files(folder)
    write_text(plain, json.dumps(savings_to_plain(found, job, fabric), indent=2) + "\n")
    now, *changed = found
    bars = [(row.name, row.saved) for row in changed if row.marker]
    scatter = SCATTER * now.marker.length if now.marker else 0.0
    figure = savings_page(f"What each change saves, on {job.fabric[fabric - 1].name}", bars, scatter, job.written_in)
    for path in pictures:
        save(figure, path)
    return paths
