"""The check sheet beside exported files."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from reports.output import written_whole

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pieces.units import Units
    from reports.checksheet.counted import CountedFile

COUNTED = (".dxf", ".svg", ".pdf")
"""Forms that have a check sheet: those that other programs, plotters and printers take."""


def check_sheets(files: Sequence[Path]) -> list[Path]:
    """The check sheet of files of one drawing: none where there is none of the forms that have one."""
    counted = [path for path in files if path.suffix in COUNTED]
    return [counted[0].with_name(f"{counted[0].stem}-check.pdf")] if counted else []


def with_sheets(files: Sequence[Path]) -> list[Path]:
    """Files, each a drawing of its own, and their check sheets."""
    return [name for path in files for name in (path, *check_sheets([path]))]


def count_file(path: Path, rules: Path | None = None) -> CountedFile:
    """What stands in a file, by its ending; of a DXF with the rule table that was written with it."""
    if path.suffix == ".dxf":
        from reports.checksheet.dxf import count_dxf

        return count_dxf(path, rules)
    if path.suffix == ".svg":
        from reports.checksheet.svg import count_svg

        return count_svg(path)
    from reports.checksheet.pdf import count_pdf

    return count_pdf(path)


def write_check_sheets(title: str, files: Sequence[Path], units: Units, made: date | None = None) -> list[Path]:
    """Count what stands in the files of one drawing, and write their check sheet; what was written.

    Parameters
    ----------
    title
        What was exported.
    units
        Of the job: they choose the paper.
    made
        The day on it, by default today.
    """
    from reports.checksheet.sheet import check_pages
    from reports.paper.pdf import Pdf

    paths = check_sheets(files)
    for path in paths:
        rules = next((file for file in files if file.suffix == ".rul"), None)
        counted = [count_file(file, rules) for file in files if file.suffix in COUNTED]
        paper, pages = check_pages(title, made or date.today(), counted, units)
        with written_whole(path) as temporary:
            pdf = Pdf(temporary, f"Check sheet: {title}", {})
            for page in pages:
                pdf.begin(paper.width, paper.height)
                pdf.paint(page, (0.0, 0.0, paper.width, paper.height), (0.0, 0.0))
                pdf.end()
            pdf.save()
    return paths
