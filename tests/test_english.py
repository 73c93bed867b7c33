"""How the program speaks: turns of phrase that a native speaker would not use stay out of what is shown."""

from __future__ import annotations

import re

import pytest

from tests.make.sentences import sentences, shown_words

ODD = {
    r"\bof which\b": "start a new sentence",
    r"\b(it is|is it) said\b|\bare said to\b": "say who says it: the file, the marker, the answer",
    r"\b(whatever|whoever|whichever)\b": "name the thing or the person",
    r"(?<!here )\b(is|are) no(?= [a-z'XA-Z])(?! (longer|more|less|shorter|wider|narrower|larger)\b)": "is not a …",
    r"\bsay --": "give --…",
    r"\ba (name|line|place) of (its|their) own\b": "its own name",
    r"\b(asked|wanted|allowed) (were|are|is)\b": "X instead of Y, or: X is allowed",
    r"(?<=[0-9X}]) signs\b": "characters",
    r"\blies? (over|in) one another\b": "overlap, or are nested",
    r"\bno fit to page\b": 'turn off "fit to page"',
    r"\bsheets to glue\b": "sheets to tape or glue",
    r"\bone a core\b": "one per core",
    r"\bStart of all random choices\b": "Random seed",
    r"\bno more to buy\b": "same amount to buy",
    r"\bwould still need\b": "would take",
    r"\bnot searched further\b": "first try",
    r"\bby [0-9X.]+ against\b": "X less than",
    r"\bIf it did fit\b": "would be left over if it fitted",
    r"\bmaking ready apart\b": "not counting start-up",
    r"\bfor want of\b": "for lack of",
    r"\banew\b": "again",
    r"\bof (\w+ )?(it|them) alone\b": "only …",
}
"""Turns of phrase, each with what to write in its place."""


def odd_turns(words: str) -> list[str]:
    """The odd turns in some words, with what to write in their place."""
    return [f"'{found[0]}': write {better}" for odd, better in ODD.items() if (found := re.search(odd, words))]


@pytest.mark.parametrize(
    ("words", "is_odd"),
    [
        ("job.toml is no TOML", True),
        ("X is no file of pieces", True),
        ("There is no piece 'cape'", False),
        ("the cloth is no longer kept", False),
        ("two cloths, of which one is cheaper", True),
        ("whatever the file says", True),
        ("a name of 1 to X signs", True),
        ("signs of wear", False),
        ("2 mm apart, asked were 3", True),
        ("2 mm apart instead of 3", False),
    ],
)
def test_odd_turns_are_seen(words: str, is_odd: bool) -> None:
    """An odd turn is found wherever it stands; what is plain is left alone."""
    assert bool(odd_turns(words)) == is_odd


def test_what_is_shown_is_found() -> None:
    """Strings are read whole, with an X for what is filled in; docstrings and comments to developers are not read."""
    python = (
        '"""Not this."""\n\ndef f(n):\n    """Nor this."""\n    raise E(f"{n} is "  # nor this\n        "no file")\n'
    )
    assert list(sentences(python, ".py")) == [(5, "X is no file")]
    assert list(sentences("/** Not this. */\nsay('this'); // not this\n", ".js")) == [(2, "say('this'); ")]
    assert list(sentences("key = 1  # this as well\n", ".toml")) == [(1, "key = 1  # this as well")]


def test_plain_english() -> None:
    """No sentence that is shown has an odd turn of phrase."""
    shown = list(shown_words())
    assert len(shown) > 5000  # they are found at all
    assert {where: odd for where, words in shown if (odd := odd_turns(words))} == {}
