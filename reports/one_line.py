"""What is said of a mistake: one line, not too long, of signs that can be seen."""

from __future__ import annotations

import re

LONGEST = 900
"""Signs of a line at the most."""

LONGEST_WORD = 120
"""Signs of one word, such as a name or a number out of a file, where a line would be longer than that."""

_ESCAPES = re.compile(r"\x1b\[[0-?]*[ -/]*[@-~]|\x1b\][^\x07\x1b]*(\x07|\x1b\\)?")
"""Sequences by which a terminal would be told to move, to colour or to be called otherwise (ECMA-48)."""

_LONG = re.compile(rf"\S{{{LONGEST_WORD + 1},}}")

_KEPT = 4 * LONGEST
"""Signs looked at from either end."""


def one_line(text: str, longest: int = LONGEST) -> str:
    """A text as one line: what cannot be seen is left out, and of a long one the middle of words, then its own.

    Its beginning names the thing, its end what to do: half of what is kept is of the end, from the start of a word.
    """
    if len(text) > 2 * _KEPT:
        text = f"{text[:_KEPT]} … {text[-_KEPT:]}"
    text = " ".join("".join(sign if sign.isprintable() else " " for sign in _ESCAPES.sub("", text)).split())
    if len(text) <= longest:
        return text
    text = _LONG.sub(lambda word: f"{word[0][: LONGEST_WORD // 2]}…{word[0][-LONGEST_WORD // 2 :]}", text)
    if len(text) <= longest:
        return text
    half = (longest - 3) // 2
    end = text[-half:]
    return f"{text[:half].rstrip()} … {end[end.find(' ') + 1 :]}"


def mistake(error: Exception) -> str:
    """What went wrong, as one line: an error of this program's own, or of the system."""
    if isinstance(error, OSError) and error.strerror:
        where = f": {error.filename}" if error.filename else ""
        return one_line(f"{error.strerror}{where}")
    return one_line(str(error))
