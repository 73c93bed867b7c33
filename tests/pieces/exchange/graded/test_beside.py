"""Which rule table is that of a file."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.exchange.graded.beside import rule_table_beside
from pieces.exchange.graded.rule_table import RuleTable
from pieces.exchange.imported import ImportReport

if TYPE_CHECKING:
    from pathlib import Path

TABLE = RuleTable("coat", ("S", "M"), "M", {1: ((0.0, 0.0), (0.0, 0.0))})

PIECE = {"PIECE NAME": "front", "SIZE": "M", "RULE 1": "1"}


@pytest.mark.parametrize(
    ("piece", "style", "why"),
    [
        (PIECE, {"GRADING RULE TABLE": "coat"}, ""),
        (PIECE, {"GRADING RULE TABLE": "skirt"}, "the file asks for 'skirt'"),
        (PIECE | {"SIZE": "S"}, {}, "pieces are drawn in size S"),
        (PIECE | {"RULE 7": "7"}, {}, "no rule 7"),
        ({"PIECE NAME": "front"}, {}, "no point of the file has a rule"),
    ],
)
def test_the_table_of_a_file(piece: dict[str, str], style: dict[str, str], why: str, tmp_path: Path) -> None:
    """A table of another name, sample size or other rules is not read; it is named, with the reason."""
    report = ImportReport("DXF")
    assert rule_table_beside(tmp_path / "a.rul", {"front": piece}, style, report) is None and not report.remarks
    (tmp_path / "a.rul").write_text(TABLE.text())
    found = rule_table_beside(tmp_path / "a.rul", {"front": piece}, style, report)
    assert found == (None if why else TABLE)
    assert [why in said and "'a.rul'" in said for said in report.remarks] == [True] * bool(why)
