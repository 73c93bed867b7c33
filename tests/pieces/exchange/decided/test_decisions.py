"""What is decided of single lines, as it is written."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from pieces.errors import FormatError
from pieces.exchange.account import Account
from pieces.exchange.decided.decisions import LineDecision, decisions_of
from pieces.exchange.own.sidecar import sidecar_text
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
        "line": [{"numbers": [3, 4], "at": [1.5, -2.0], "role": "fold", "moved": [[0.0, 0.0, 1.0, 2.0]], "size": "M"}]
    }
    (found,) = decisions_of(tomllib.loads(sidecar_text(data))["line"], "a")
    assert found == LineDecision((3, 4), (1.5, -2.0), "fold", ((0.0, 0.0, 1.0, 2.0),), "M")


def test_lines_are_found_by_their_place() -> None:
    """Where another line has the number now, the one that begins at the place is meant; else none is."""
    account = Account()
    source = account.source("lines")
    for x in (10.0, 20.0, 30.0):
        account.enter(source, "open line", points=np.array([(x, 0.0), (x, 5.0)]))
    assert LineDecision((1,), (20.0, 0.0)).found(account.entries) == (2,)
    assert LineDecision((1, 2), (20.0, 0.0)).found(account.entries) == (2, 3)
    assert LineDecision((1,), (25.0, 0.0)).found(account.entries) == ()
    assert LineDecision((9,)).found(account.entries) == ()


def test_a_decision_without_its_line_is_told(tmp_path: Path) -> None:
    """A number that the file does not have is not passed over in silence."""
    found = read(tmp_path, sidecar=told({99: "fold"}))
    assert any("line 99 is not used" in said for said in found.report.guesses)
