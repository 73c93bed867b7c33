"""The files of a report: one page, a workbook, or a folder with both and every table by itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.errors import OutputError
from reports.output import refuse_overwriting, written_whole

if TYPE_CHECKING:
    from pathlib import Path

    from reports.sheets.report import Report

TABLES = "report-*.csv"


def planned_report(out: Path) -> list[Path]:
    """The files that are sure to be written, and tables of an earlier report that would go.

    Raises
    ------
    OutputError
        If the name ends in what no report is written as.
    """
    if out.is_dir() or not out.suffix:
        return [out / "report.html", out / "report.xlsx", *sorted(out.glob(TABLES))]
    if out.suffix.lower() not in (".html", ".xlsx"):
        raise OutputError(f"cannot write {out}: a report ends in .html or .xlsx, or is a folder for both and tables")
    return [out]


def check_report(out: Path, *, force: bool) -> None:
    """Make sure, before any work is done, that a report can be written there; OutputError if not."""
    refuse_overwriting(planned_report(out), force=force)


def write_report(report: Report, out: Path) -> list[Path]:
    """Write a report; the files written. Tables of an earlier one that would be left over are removed."""
    from reports.sheets.csv import table_csv
    from reports.sheets.html import html_page
    from reports.sheets.xlsx import workbook

    paths = planned_report(out)
    new = [path for path in paths if path.suffix != ".csv"]
    whole = {path: (html_page(report).encode() if path.suffix.lower() == ".html" else workbook(report)) for path in new}
    if out not in new:
        whole |= {out / TABLES.replace("*", table.name): table_csv(table).encode() for table in report.tables()}
    for path in paths:
        if path not in whole:
            path.unlink()
    for path, data in whole.items():
        with written_whole(path) as temporary:
            temporary.write_bytes(data)
    return list(whole)
