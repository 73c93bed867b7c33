"""What a garment declares."""

from __future__ import annotations

from dataclasses import is_dataclass
from typing import TYPE_CHECKING, get_args, get_type_hints

import pytest

from pieces import GARMENTS
from pieces.body.measures import MEASURES
from pieces.body.sizes import find_table

if TYPE_CHECKING:
    from pieces.garments import Garment

TOLD = {
    "separating zip": "zip",
    "zip": "zip",
    "hook and eye": "hook",
    "buttons or snaps": "button",
    "elastic": "elastic",
    "cord": "cord",
    "label": "label",
}
"""Trims by the word that a step names them with."""


@pytest.mark.parametrize("name", GARMENTS)
def test_every_garment_says_what_it_needs(name: str) -> None:
    """Known measurements, and options that each say what they are and how a file writes them."""
    garment = GARMENTS[name]
    assert garment.name == name
    assert set(garment.measurements) <= set(MEASURES)
    assert is_dataclass(garment.style)
    for option in garment.options():
        assert option.metadata["help"]
        assert option.metadata["kind"] in ("length", "share", "choice")
        assert option.metadata["kind"] == "choice" or option.metadata["example"]


@pytest.mark.parametrize("garment", GARMENTS.values(), ids=lambda garment: garment.name)
def test_every_trim_is_sewn_in(garment: Garment) -> None:
    """Each trim on the shopping list occurs in a step, in the usual style and with other closures and waists."""
    assert garment.trims and garment.steps
    body, hints = find_table("women").body("92"), get_type_hints(garment.style)
    named = [name for name in ("closure", "waistband", "cord", "ends", "lining") if name in hints]
    for asked in ({}, *({name: word} for name in named for word in get_args(hints[name]))):
        style = garment.style(**asked)
        drafted = garment.draft(body, style)
        said = " ".join(step.text for step in garment.steps(drafted, style)).lower()
        needed = {trim.name for trim in garment.trims(drafted, style)}
        assert {name: word for name, word in TOLD.items() if name in needed and word not in said} == {}, asked
        assert ("overlock thread" in needed) == ("neaten" in said)
