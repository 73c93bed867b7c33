"""The files of the ledger: a workbook, and each of its tables by itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.output import written_whole
from reports.sheets.csv import table_csv
from reports.sheets.xlsx import workbook

if TYPE_CHECKING:
    from pathlib import Path

    from reports.sheets.report import Report

TABLE_NAMES = ("on-hand", "orders", "cloth", "minutes", "cloth-rates", "history")
"""Its tables, by their names."""

WORKBOOK = "ledger.xlsx"


def ledger_files() -> list[str]:
    """Names of all files."""
    return [WORKBOOK, *(f"ledger-{name}.csv" for name in TABLE_NAMES)]


def ledger_file(report: Report, name: str) -> bytes:
    """One of the files."""
    if name == WORKBOOK:
        return workbook(report)
    table = next(table for table in report.tables() if name == f"ledger-{table.name}.csv")
    return table_csv(table).encode()


def write_ledger(report: Report, folder: Path) -> list[Path]:
    """Write all files; those that were written."""
    written = [folder / name for name in ledger_files()]
    for path in written:
        with written_whole(path) as temporary:
            temporary.write_bytes(ledger_file(report, path.name))
    return written
