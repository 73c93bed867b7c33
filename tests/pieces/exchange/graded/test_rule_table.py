"""Rule tables read, and refused with what is wrong in them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from pieces.exchange.graded.rule_table import RuleTable, read_rule_table, rule_mark, rule_of

if TYPE_CHECKING:
    from pathlib import Path

HAND = """ASTM D6673-10
UNITS: ENGLISH
GRADE RULE TABLE: by hand
NUMBER OF SIZES: 3
SIZE LIST: S M L
SAMPLE SIZE: M
RULE: DELTA 1
-0.5, 0.25 0, 0 0.5, -0.25
rule: delta 7
0,0 0,0
1,0
END
what follows is not read
"""


def test_by_hand(tmp_path: Path) -> None:
    """A table in inches, written by hand with blanks as people put them: moves are in mm, 25.4 to the inch."""
    path = tmp_path / "hand.rul"
    path.write_text(HAND)
    table = read_rule_table(path)
    assert (table.name, table.sizes, table.sample) == ("by hand", ("S", "M", "L"), "M")
    assert table.move(1, "S") == pytest.approx((-12.7, 6.35))
    assert table.move(7, "L") == pytest.approx((25.4, 0))


def test_there_and_back(tmp_path: Path) -> None:
    """What is written is read as it was, to a tenth of a micrometre."""
    table = RuleTable("t", ("6", "8"), "8", {3: ((-1.23456, 0.0), (0.0, 0.0)), 4: ((2.0, -7.5), (0.0, 0.0))})
    path = tmp_path / "t.rul"
    path.write_text(table.text())
    assert read_rule_table(path).move(3, "6") == (-1.2346, 0.0)
    assert read_rule_table(path).text() == table.text()


@pytest.mark.parametrize(
    ("was", "becomes", "said"),
    [
        ("UNITS: ENGLISH", "UNITS: ELLS", "UNITS must be ENGLISH or METRIC"),
        ("SIZE LIST: S M L", "SIZE LIST: S M M", "each once"),
        ("SIZES: 3", "SIZES: 4", "NUMBER OF SIZES is '4'"),
        ("SAMPLE SIZE: M", "SAMPLE SIZE: Q", "SAMPLE SIZE must be one of S, M, L"),
        ("1,0\n", "", "needs 6 numbers, two for each of 3 sizes, and has 4"),
        ("1,0\n", "1,nought\n", "rule 7: could not convert"),
        ("1,0\n", "1,1e9\n", "at most 10 m"),
        ("1,0\n", "nan,0\n", "at most 10 m"),
        ("delta 7", "delta 1", "rule 1 stands there twice"),
        ("END\nwhat follows is not read\n", "", "cut short"),
    ],
)
def test_refused(tmp_path: Path, was: str, becomes: str, said: str) -> None:
    """What makes no sense is refused in one line that names it."""
    assert was in HAND
    path = tmp_path / "hand.rul"
    path.write_text(HAND.replace(was, becomes))
    with pytest.raises(FormatError, match=said) as told:
        read_rule_table(path)
    assert "\n" not in str(told.value)


def test_marks() -> None:
    """The number of a rule stands behind a sign; other texts are none."""
    assert rule_of(rule_mark(12)) == 12
    assert rule_of("12") is rule_of("front # 12") is None
