"""Files that ask for too much are given up, by the command line as well as by the page."""

from __future__ import annotations

import resource
import sys
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from reports.apart import ApartReading, HearStep, ReadingLimits, read_apart
from reports.ask.imported import FileAsked, read_file
from reports.errors import OverLimitError
from tests.make import hostile_drawings, hostile_more
from tests.make.hostile_files import FILES

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

assert hostile_drawings and hostile_more  # they add their files to the others

SHORT = ReadingLimits(1, 60_000_000)


def spin(path: Path, given: Any, step: HearStep) -> bytes:
    """Take time without end."""
    while True:
        given = not given


def fill(path: Path, given: Any, step: HearStep) -> bytes:
    """Take memory without end."""
    kept = [np.ones(1_000_000)]
    while True:
        kept.append(kept[0].copy())


def fail(path: Path, given: Any, step: HearStep) -> bytes:
    """Have a fault."""
    raise KeyError(given)


def answer(path: Path, given: Any, step: HearStep) -> bytes:
    """Say what is given, after a step."""
    step(b"begun")
    return f"{path.name} {given}".encode()


each_begun = pytest.mark.parametrize(
    "is_copy", [pytest.param(sys.platform == "linux", id="copy"), pytest.param(False, id="anew")]
)
"""Processes that begin as a copy of this one, as far as the system has them, or anew."""


@each_begun
def test_answer(tmp_path: Path, is_copy: bool) -> None:
    """What a process says comes back as it was said, and so does each step before."""
    steps = list[bytes]()
    how = ApartReading(answer, 7, SHORT, "smaller", is_copy=is_copy)
    assert read_apart(tmp_path / "a.csv", how, steps.append) == b"a.csv 7"
    assert steps == [b"begun"]


@each_begun
@pytest.mark.parametrize(
    ("read", "why"),
    [(spin, r"a\.csv takes more than 1 s to read: smaller"), (fill, r"a\.csv takes more than 60 MB of memory to read")],
)
def test_limits(tmp_path: Path, read: Callable[[Path, Any, HearStep], bytes], why: str, is_copy: bool) -> None:
    """What takes more time or memory than it may is ended, and said in one line."""
    with pytest.raises(OverLimitError, match=why):
        read_apart(tmp_path / "a.csv", ApartReading(read, 0, SHORT, "smaller", is_copy=is_copy))


def test_spent_before(tmp_path: Path) -> None:
    """What was spent before counts, and some is kept for the end; but half of the time is left for reading."""
    for spent, most in ((0.6, 1.3), (9.0, 1.3)):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        with pytest.raises(OverLimitError):
            read_apart(tmp_path / "a.csv", ApartReading(spin, 0, ReadingLimits(2, 60_000_000), "", spent=spent))
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        assert 0.9 < used < most


def test_fault(tmp_path: Path) -> None:
    """A fault of our own is no mistake in the file."""
    with pytest.raises(RuntimeError, match=r"reading a\.csv failed: KeyError\('x'\)"):
        read_apart(tmp_path / "a.csv", ApartReading(fail, "x", SHORT, "smaller"))


@pytest.mark.parametrize(
    "name",
    [
        "placed in rows.dxf",
        "areas over one another.svg",
        "curves.svg",
        "crossing itself.svg",
        "deep.toml",
        "packed.svgz",
        "an open comment in the rules.svg",
    ],
)
def test_hostile_files(tmp_path: Path, name: str) -> None:
    """A file that asks for too much ends in an answer or in one line, in 5 s, its beginning and its end included."""
    path = tmp_path / name
    path.write_bytes(FILES[name]())
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    try:
        found, _, _ = read_file(path, FileAsked(ReadingChoices()))
    except (FormatError, OverLimitError) as error:
        assert name in str(error) and "\n" not in str(error)
    else:
        assert found.pieces
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime < 5.0


def test_more_time(run: Callable[..., Ran], tmp_path: Path) -> None:
    """From the command line, a file that takes too much is refused with what to do, and read when given more."""
    corners = [(0, 0), (200, 0), (200, 100), (0, 90)]
    ends = "".join(f"p{n},{x + n / 99} mm,{y} mm\n" for n in range(3000) for x, y in corners)
    (tmp_path / "many.csv").write_text("piece,x,y\n" + ends, encoding="utf-8")
    refused = run("import", "many.csv", "--seconds", "1")
    assert refused.code == 2
    assert refused.err.startswith("ellwand: many.csv takes more than 1 s to read: ") and refused.err.count("\n") == 1
    assert "--seconds 60" in refused.err
    assert "piece 3000" in run("import", "many.csv", "--seconds", "60").out
