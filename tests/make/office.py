"""An office suite without a window: workbooks with inputs changed, recalculated, and read back."""

from __future__ import annotations

import io
import os
import subprocess
from typing import TYPE_CHECKING, Any

import openpyxl
from openpyxl.utils import get_column_letter

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from reports.sheets.living import LiveBook

LEFT_OUT = "they take LibreOffice without a window: set ELLWAND_OFFICE=1"
"""Why tests of recalculated workbooks are no part of an ordinary run."""

IS_ON = bool(os.environ.get("ELLWAND_OFFICE"))

PATIENCE = 120
"""Seconds that the suite may take for all workbooks."""

CENT = 0.001
"""Money is alike if it differs by less: cents are whole."""


def with_inputs(data: bytes, book: LiveBook, changes: Mapping[str, Any]) -> bytes:
    """A workbook with some inputs changed, by key; without the values kept beside its formulas."""
    opened = openpyxl.load_workbook(io.BytesIO(data))
    for key, value in changes.items():
        title, row, column = book.place(key)
        cell = opened[title].cell(row + 1, column + 1)
        assert cell.fill.fgColor.rgb == "FFFFF4CC", f"{key} is no input"
        cell.value = value
    stream = io.BytesIO()
    opened.save(stream)
    return stream.getvalue()


def recalculated(folder: Path, books: Sequence[bytes], kind: str = "xlsx") -> list[Path]:
    """The same workbooks, recalculated: the suite is started once for all of them."""
    asked, out = folder / "asked", folder / "out"
    asked.mkdir()
    paths = [asked / f"{number}.xlsx" for number in range(len(books))]
    for path, data in zip(paths, books, strict=True):
        path.write_bytes(data)
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--norestore", "--convert-to", kind, "--outdir", str(out)]
    subprocess.run([*command, *map(str, paths)], check=True, capture_output=True, timeout=PATIENCE)
    return [out / f"{path.stem}.{kind}" for path in paths]


def differences(path: Path, expected: LiveBook) -> list[str]:
    """Where a recalculated workbook differs from what was worked out for it, over all of its formulas."""
    opened, found = openpyxl.load_workbook(path, data_only=True), []
    for sheet in expected.sheets:
        for (row, column), cell in sheet.cells.items():
            if not cell.formula:
                continue
            got = opened[sheet.title].cell(row + 1, column + 1).value
            if not alike(got, cell.value):
                found.append(f"{sheet.title}!{get_column_letter(column + 1)}{row + 1}: {got!r}, not {cell.value!r}")
    return found


def alike(got: Any, wanted: Any) -> bool:
    """Whether a cell holds what was worked out; an empty text may be read as nothing."""
    if isinstance(wanted, str):
        return (got or "") == wanted
    return isinstance(got, int | float) and abs(float(got) - float(wanted)) < CENT
