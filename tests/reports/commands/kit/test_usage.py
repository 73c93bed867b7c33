"""A command line that will not do is told of in our own words: the option, what it needs, what it got."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from collections.abc import Callable

    from tests.reports.conftest import Ran

SAID = (
    (("left", "job.toml", "--number", "x"), "--number: write a whole number, such as 2, not 'x'"),
    (("left", "job.toml", "--number", "0"), "--number: write 1 or more, not '0'"),
    (("left", "job.toml", "--number", "9" * 60), f"--number: write 20 or less, not '{'9' * 40}…'"),
    (("left", "job.toml", "--seconds", "x"), "--seconds: write a plain number, such as 2.5, not 'x'"),
    (("fits", "job.toml", "--remnant", "1 yd", "--spread", "q"), "--spread: 'q' is not one of 'open', 'folded'"),
    (("convert", "-1 yd", "--from", "45 in", "--to", "60 in"), "'-1 …' begins with a minus: write a length or number"),
    (("buy", "job.toml", "--second", "3"), "No such option: --second"),
)


@pytest.mark.parametrize(("words", "said"), SAID)
def test_own_words(words: tuple[str, ...], said: str, run: Callable[..., Ran]) -> None:
    """One line and code 2, without a word of the libraries that read it."""
    found = run(*words)
    assert (found.code, found.err.count("\n")) == (2, 1)
    assert said in found.err and "Input should" not in found.err
