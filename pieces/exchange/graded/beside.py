"""The rule table beside a DXF file, if it is that of the file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.errors import FormatError
from pieces.exchange.graded.rule_table import read_rule_table
from pieces.exchange.standard import UNITS

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from pieces.exchange.graded.rule_table import RuleTable
    from pieces.exchange.imported import ImportReport


UNREAD = "the rule table "
"""How the remark on one that is not read begins."""


def rule_table_beside(
    path: Path, records: Mapping[str, Mapping[str, str]], style: Mapping[str, str], report: ImportReport
) -> RuleTable | None:
    """The rule table beside a file; None if there is none, or it is not that of the file, which is told."""
    if not path.is_file():
        return None
    called = style.get("GRADING RULE TABLE", "")
    drawn = {found["SIZE"] for found in records.values() if "PIECE NAME" in found and found.get("SIZE")}
    used = {int(key.split()[1]) for found in records.values() for key in found if key.startswith("RULE ")}
    try:
        table = read_rule_table(path)
        if called and table.name.casefold() != called.casefold():
            raise FormatError(f"it is called {table.name[:40]!r}, and the file asks for {called[:40]!r}")
        if drawn - {table.sample}:
            raise FormatError(
                f"its sample size is {table.sample}, and pieces are drawn in size {sorted(drawn)[0][:40]}"
            )
        unit = UNITS.get(style.get("UNITS", "").upper(), table.unit)
        if unit != table.unit:
            raise FormatError(f"its unit is {table.unit!r}, and that of the file {unit!r}")
        if used - set(table.rules):
            raise FormatError(f"it has no rule {min(used - set(table.rules))}, which a point of the file has")
        if not used:
            raise FormatError("no point of the file has a rule")
    except FormatError as error:
        report.remarks.append(f"{UNREAD}'{path.name}' beside it is not read, its sizes are left out: {error}")
        return None
    return table
