"""What is said of a mistake: one line, short enough, of signs that can be seen."""

from __future__ import annotations

import errno

import pytest

from reports.one_line import LONGEST, mistake, one_line


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("two\nlines\tand  spaces", "two lines and spaces"),
        ("\x1b[31mred\x1b[0m \x1b]0;a new title\x07text", "red text"),
        ("a\x00b\x07c\x9bd\u202ee\u2028f\ud800g", "a b c d e f g"),
        ("crêpe ½ 布", "crêpe ½ 布"),
    ],
)
def test_one_line(text: str, line: str) -> None:
    """White space is one space each, escape sequences (ECMA-48) go as a whole, and so does what cannot be seen."""
    assert one_line(text) == line


@pytest.mark.parametrize("size", [901, 1_500, 5_000, 60_000])
@pytest.mark.parametrize("word", ["9", "99 "])
def test_long(size: int, word: str) -> None:
    """Of a long text, or a long word in it, the beginning and the end are kept: the thing, and what to do."""
    line = one_line("job.toml: " + word * (size // len(word)) + ": write a number")
    assert len(line) <= LONGEST == 900
    assert line.startswith("job.toml: 99")
    assert line.endswith(": write a number")
    assert "…" in line


def test_what_to_do_is_kept() -> None:
    """An error that names a dozen things is shown whole, with its advice."""
    named = "; ".join(f"layer 'seam {n}': inner line becomes cutout" for n in range(12))
    said = f"a.toml: --learn would change what it says: {named}: give --relearn for that, or change it by hand"
    assert one_line(said) == said and len(said) > 500


def test_system() -> None:
    """An error of the system is told in its own words, with the file that it is about."""
    assert mistake(OSError(errno.ENOSPC, "No space left on device", "a\x1b[1m.txt")) == "No space left on device: a.txt"
    assert mistake(OSError("as it is")) == "as it is"
