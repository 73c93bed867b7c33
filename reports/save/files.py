"""The files of changes that save cloth."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.draw.kit.files import PICTURES
from reports.output import write_text
from reports.save.saves import SCATTER, savings_to_plain

if TYPE_CHECKING:
    from pathlib import Path

    from reports.save.saves import Savings


def saving_files(folder: Path) -> list[Path]:
    """The files of changes that save cloth."""
    return [folder / f"saves.{suffix}" for suffix in ("json", *PICTURES)]


def write_savings(found: Savings, folder: Path) -> list[Path]:
    """Write what each change saves, as JSON and as a picture; the files written."""
    from reports.draw.kit.files import save
    from reports.save.draw import savings_page

    plain, *pictures = paths = saving_files(folder)
    write_text(plain, json.dumps(savings_to_plain(found), indent=2) + "\n")
    now, *changed = found.rows
    bars = [(row.name, row.saved) for row in changed if row.marker]
    untold = [f"{row.name}: {row.outcome}" for row in changed if row.outcome in ("not searched", "not found shorter")]
    scatter = SCATTER * now.marker.length if now.marker else 0.0
    job = found.job
    title = f"What each change saves, on {job.fabric[found.fabric - 1].name}"
    figure = savings_page(title, bars, untold, scatter, job.written_in)
    for path in pictures:
        save(figure, path)
    return paths
