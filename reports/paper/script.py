"""Words from right to left, in the order in which they are printed."""

from __future__ import annotations

from unicodedata import bidirectional, mirrored

RIGHT = ("R", "AL")
"""Kinds of letters that run from right to left (Unicode Standard Annex 9)."""

WITHIN = (*RIGHT, "NSM", "WS", "ON", "CS")
"""Kinds of signs that run with them where they stand between two of them."""

MIRRORED = str.maketrans("()[]{}<>", ")(][}{><")


def as_printed(words: str) -> str:
    """Words in the order of their signs on paper, from the left: a PDF does not turn those that run to the left.

    Runs of letters that do are turned, with the signs between them. Letters are not joined.
    """
    kinds = [bidirectional(sign) for sign in words]
    if not any(kind in RIGHT for kind in kinds):
        return words
    told, at = "", 0
    while at < len(words):
        end = at + 1
        if kinds[at] in RIGHT:
            while end < len(words) and kinds[end] in WITHIN:
                end += 1
            while kinds[end - 1] not in (*RIGHT, "NSM"):
                end -= 1
            told += _turned(words[at:end])
        else:
            told += words[at]
        at = end
    return told


def _turned(run: str) -> str:
    """A run backwards: marks stay behind their letters, brackets open to the other side."""
    signs: list[str] = []
    for sign in run:
        if signs and bidirectional(sign) == "NSM":
            signs[-1] += sign
        else:
            signs.append(sign.translate(MIRRORED) if mirrored(sign) else sign)
    return "".join(reversed(signs))
