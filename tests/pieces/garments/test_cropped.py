"""Tops that end above the hip, and bodies whose waist is larger than their chest: as wide as is needed, and told."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from pieces import GARMENTS
from pieces.body.girths import to_hip, to_waist
from pieces.body.sizes import find_table
from pieces.length import mm
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from pieces import Body

WOMAN = find_table("women").body("80")
"""Her hip is 113 mm larger than her bust."""

MEASURED = ("shirt", "rib-jacket", "robe")
KNITS = ("t-shirt", "sweatshirt", "hoodie")
HEM = {"robe": "hip"}


def sizes(name: str, body: Body, **asked: Any) -> tuple[dict[str, float], tuple[str, ...]]:
    """Finished sizes and notes of a draft."""
    garment = GARMENTS[name]
    pieces = garment.draft(body, garment.style(**asked))
    return {size.name: size.garment for size in pieces.finished}, pieces.notes


@pytest.mark.parametrize("name", MEASURED)
def test_a_hem_is_as_wide_as_the_body_there(name: str) -> None:
    """At the waist as wide as the chest; at the hip as the hip asks; between them between."""
    hem = HEM.get(name, "hem against the hip")
    lengths = (to_waist(WOMAN), to_waist(WOMAN) + 0.8 * (to_hip(WOMAN) - to_waist(WOMAN)), to_hip(WOMAN) + 1)
    widths = []
    for length in lengths:
        found, _ = sizes(name, WOMAN, length=mm(length), **in_mm({"ease": 127.0}))
        widths.append(found[hem] - 127)
    assert widths[0] == pytest.approx(WOMAN.bust)
    assert WOMAN.bust < widths[1] < WOMAN.hip
    assert widths[2] == pytest.approx(WOMAN.hip)


@pytest.mark.parametrize("name", [*MEASURED, *KNITS])
def test_a_large_waist_is_gone_round_or_told(name: str) -> None:
    """A waist 6 in larger than the chest: the garment has room there, or a note has the figure."""
    body = replace(WOMAN, waist=mm(WOMAN.bust + 152), hip=mm(WOMAN.bust + 60))
    usual, _ = sizes(name, body)
    assert usual["waist"] >= WOMAN.bust + 152 or name in KNITS  # of a knit that stretches
    tight, notes = sizes(name, body, ease=mm(0.0))
    assert tight["waist"] < usual["waist"]
    assert any(note.startswith("waist:") for note in notes)
    plain, notes = sizes(name, replace(body, waist=None))
    assert plain.get("waist") is None and not any(note.startswith("waist:") for note in notes)


@pytest.mark.parametrize("name", KNITS)
def test_a_large_waist_of_a_knit(name: str) -> None:
    """The hem goes round it, and a knit that does not stretch so far is refused."""
    body = replace(WOMAN, waist=mm(WOMAN.bust + 152))
    wide, _ = sizes(name, body)
    plain, _ = sizes(name, WOMAN)
    assert wide["hem against the hip"] >= WOMAN.bust + 152 > plain["hem against the hip"]
