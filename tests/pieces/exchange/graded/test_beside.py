"""Which rule table is that of a file."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from pieces.exchange.graded.beside import rule_table_beside
from pieces.exchange.graded.rule_table import RuleTable
from pieces.exchange.imported import ImportReport
from tests.make.drawings import SQUARE, dxf, read

if TYPE_CHECKING:
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

TABLE = RuleTable("coat", ("S", "M"), "M", {1: ((0.0, 0.0), (0.0, 0.0))})

PIECE = {"PIECE NAME": "front", "SIZE": "M", "RULE 1": "1"}


def test_a_size_of_a_table_that_is_not_read(tmp_path: Path) -> None:
    """The error says why the table beside it is not read."""

    def draw(document: Drawing, space: Modelspace) -> None:
        block = document.blocks.new("A")
        block.add_lwpolyline(SQUARE, close=True, dxfattribs={"layer": "1"})
        for said in ("PIECE NAME: bag", "SIZE: M"):
            block.add_text(said)
        space.add_blockref("A", (0, 0))

    path = dxf(tmp_path / "bag.dxf", draw)
    path.with_suffix(".rul").write_text(TABLE.text().replace("END", ""))
    with pytest.raises(
        FormatError, match=r"no size 'S': it has M; the rule table 'bag.rul' .* its last line must be END"
    ):
        read(path, size="S")


@pytest.mark.parametrize(
    ("piece", "style", "why"),
    [
        (PIECE, {"GRADING RULE TABLE": "coat"}, ""),
        (PIECE, {"GRADING RULE TABLE": "skirt"}, "the file asks for 'skirt'"),
        (PIECE | {"SIZE": "S"}, {}, "pieces are drawn in size S"),
        (PIECE | {"RULE 7": "7"}, {}, "no rule 7"),
        (PIECE, {"UNITS": "METRIC"}, ""),
        (PIECE, {"UNITS": "ENGLISH"}, "its unit is 'mm', and that of the file 'in'"),
        ({"PIECE NAME": "front"}, {}, "no point of the file has a rule"),
    ],
)
def test_the_table_of_a_file(piece: dict[str, str], style: dict[str, str], why: str, tmp_path: Path) -> None:
    """A table of another name, sample size or other rules is not read; it is named, with the reason."""
    report = ImportReport("DXF")
    assert rule_table_beside(tmp_path / "a.rul", {"front": piece}, style, report) is None and not report.remarks
    (tmp_path / "a.rul").write_text(TABLE.text())
    found = rule_table_beside(tmp_path / "a.rul", {"front": piece}, style, report)
    assert found == (None if why else replace(TABLE, unit="mm"))
    assert [why in said and "'a.rul'" in said for said in report.remarks] == [True] * bool(why)
