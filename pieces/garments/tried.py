"""What a garment says of corrections from a try-on: those it was drafted by, and those that change nothing in it."""

from __future__ import annotations

from dataclasses import fields
from typing import TYPE_CHECKING

from pieces.body.corrections import Corrections
from pieces.length import mm

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body


def tried_notes(body: Body, garment: str, *drafted_by: str) -> Iterator[str]:
    """A line for each correction of a body.

    Parameters
    ----------
    drafted_by
        The corrections that the garment follows, by their names in `Corrections`.
    """
    tried = body.tried_on
    followed = Corrections(
        **{each.name: mm(getattr(tried, each.name)) for each in fields(tried) if each.name in drafted_by}
    )
    said = set(followed.words())
    for words in tried.words():
        yield f"try-on: {words}" if words in said else f"try-on: {words}: changes nothing in a {garment}"
