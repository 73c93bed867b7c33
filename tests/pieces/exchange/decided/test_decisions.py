"""What is decided of single lines, as it is written."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from pieces.errors import FormatError
from pieces.exchange.account import Account
from pieces.exchange.decided.decisions import LineDecision, decisions_of, decisions_text
from pieces.exchange.own.sidecar import sidecar_of, sidecar_text
from tests.make.layered import read, told

if TYPE_CHECKING:
    from pathlib import Path

WRONG: list[tuple[dict[str, Any], str]] = [
    ({}, "numbers"),
    ({"numbers": [0]}, "numbers"),
    ({"numbers": [1], "role": "sleeve"}, "none of piece"),
    ({"numbers": [1], "moved": [[1, 2, 3]]}, "four numbers"),
    ({"numbers": [1], "at": ["a", 2]}, "two numbers"),
    ({"numbers": [1], "colour": "red"}, "colour"),
]


@pytest.mark.parametrize(("entry", "said"), WRONG)
def test_what_is_no_decision_is_refused(entry: dict[str, Any], said: str) -> None:
    """Each with what is wrong, and where."""
    with pytest.raises(FormatError, match=said):
        decisions_of([entry], "a.pieces.toml")


def test_as_text_and_back() -> None:
    """What is written as TOML is read as it was."""
    data = {
        "line": [
            {"numbers": [3, 4], "at": [1.5, -2.0], "long": 9.5, "role": "fold", "moved": [[0.0, 0.0, 1.0, 2.0]]},
            {"numbers": [3], "size": "M"},
        ]
    }
    found = decisions_of(tomllib.loads(sidecar_text(data))["line"], "a")
    first = LineDecision((3, 4), (1.5, -2.0), 9.5, "fold", ((0.0, 0.0, 1.0, 2.0),))
    assert found == (first, LineDecision((3,), size="M"))
    assert decisions_of(tomllib.loads(decisions_text(found))["line"], "a") == found


def test_lines_are_found_by_their_place() -> None:
    """Where another line has the number now, the only one that begins there and is as long is meant; else none is."""
    account = Account()
    source = account.source("lines")
    for x, long in ((10.0, 5.0), (20.0, 5.0), (30.0, 5.0), (30.0, 8.0), (40.0, 8.0), (40.0, 8.0)):
        account.enter(source, "open line", points=np.array([(x, 0.0), (x, long)]))

    def found(numbers: tuple[int, ...], x: float, long: float | None = None) -> tuple[int, ...]:
        return LineDecision(numbers, (x, 0.0), long).found(account.entries)

    assert found((1,), 20, 5) == (2,)
    assert found((1, 2), 20, 10) == (2, 3)
    assert found((1,), 30, 8) == (4,)
    assert found((1, 2), 30, 16) == (4, 5)
    assert found((1,), 20) == ()  # how long it was is not said: another may begin there
    assert found((1,), 40, 8) == ()  # two are so
    assert found((1,), 10, 8) == found((1,), 25, 5) == ()
    assert found((5,), 40, 8) == (5,)
    assert LineDecision((1,)).found(account.entries) == (1,)
    assert LineDecision((9,)).found(account.entries) == ()


@pytest.mark.parametrize(
    ("second", "said"),
    [
        ({"numbers": [4], "role": "sew line"}, r"1 and 2 both say the role of line 4"),
        ({"numbers": [3, 4], "size": "L"}, r"both say the size of line 3"),
        ({"numbers": [3], "moved": [[0, 0, 2, 2]]}, r"both say the moved of line 3"),
    ],
)
def test_two_entries_for_a_line_are_refused(second: dict[str, Any], said: str) -> None:
    """Two that say different things of one line: which are named. Two that agree, or say other things, are not."""
    first = {"numbers": [3, 4], "role": "fold", "size": "M", "moved": [[0, 0, 1, 1]]}
    with pytest.raises(FormatError, match=said):
        decisions_of([first, second], "a")
    assert len(decisions_of([first, {"numbers": [4], "role": "fold"}, {"numbers": [9], "role": "grain"}], "a")) == 3


def test_two_that_mean_one_line_now(tmp_path: Path) -> None:
    """One by its number, one by its place and length: that they differ is told, and the first holds."""
    lines = [{"numbers": [2], "role": "frame"}, {"numbers": [7], "at": [30, -30], "long": 1160, "role": "cutout"}]
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="500mm" height="500mm" viewBox="0 0 500 500">'
        '<path fill="none" stroke="#000" d="M0 0H400V400H0Z"/>'
        '<path fill="none" stroke="#000" d="M30 30H370V370H30V230"/>'
        "</svg>"
    )
    found = read(tmp_path, text, sidecar=sidecar_of({"line": lines}, "told"))
    assert any("line 2 is decided on twice: cutout is not used" in said for said in found.report.guesses)
    assert found.report.account.entries[1].place == "frame"


def test_a_decision_without_its_line_is_told(tmp_path: Path) -> None:
    """A number that the file does not have is not passed over in silence."""
    found = read(tmp_path, sidecar=told({99: "fold"}))
    assert any("line 99 is not used" in said for said in found.report.guesses)
