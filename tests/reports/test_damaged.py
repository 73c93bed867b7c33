"""Damaged files into the commands, seeded: an answer or one line, never a traceback."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from tests.make.damaging import Ran, cases, faults_of, kinds, run

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


@pytest.mark.usefixtures("read_here")
@pytest.mark.generated(60)
def test_damaged(numbers: Iterator[Any], tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """The exit code is 0, 1 or 2, and with 2 goes one line of 300 signs at the most, all of which can be seen.

    Bits are flipped, files cut short, numbers out of all proportion, encodings others, values nested deeply.
    """
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    folder = tmp_path / "work"
    folder.mkdir()
    codes = list[int | str]()
    for case in cases(numbers, 0, folder):
        assert not case.faults, f"{case.number}, {case.words}: {case.faults}: {case.ran.err[-3000:]}"
        codes.append(case.ran.code)
    assert len(codes) < 20 or {*codes} >= {0, 2}  # so few as a busy machine has time for may all be refused


@pytest.mark.usefixtures("read_here")
def test_sound(tmp_path: Path, monkeypatch: MonkeyPatch) -> None:
    """Left whole, the same files are read: their commands answer, so damage alone is what is refused above."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    for number, kind in enumerate(kinds()):
        if kind.name in ("order.toml", "clients.csv"):
            continue  # see the tests of `run`
        folder = tmp_path / str(number)
        folder.mkdir()
        for name, text in kind.others:
            (folder / name).write_text(text, encoding="utf-8")
        (folder / kind.name).write_bytes(kind.text)
        for words, _ in kind.commands:
            ran = run(words.format(kind.name), folder)
            assert (ran.code, ran.err) in ((0, ""), (1, "")), (words, ran)


@pytest.mark.parametrize(
    "ran",
    [
        Ran("traceback", "", "Traceback (most recent call last):\n"),
        Ran(70, "", "ellwand: a fault\n"),
        Ran(2, "", "Usage: ellwand\n"),
        Ran(2, "", f"ellwand: {'9' * 1000}\n"),
        Ran(2, "", "ellwand: two\nlines\n"),
        Ran(2, "", "ellwand: \x1b[31mred\n"),
        Ran(0, "", "RuntimeWarning: overflow\n"),
    ],
)
def test_judge(ran: Ran) -> None:
    """What would be wrong is called wrong: a trace, another code, no line, one too long, two, colours, a warning."""
    assert list(faults_of(ran))
