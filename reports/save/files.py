"""The files of changes that save cloth."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.draw.kit.files import PICTURES
from reports.output import write_text
from reports.save.saves import savings_to_plain

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
    figure = savings_page(found)
    for path in pictures:
        save(figure, path)
    return paths
