"""A step of sewing: what it says is read off the pieces."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from pieces import GARMENTS, Body
from pieces.body.sizes import find_table
from pieces.garments.sewing import SewingStep, notches_on

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

JACKET = GARMENTS["rib-jacket"]


def test_read_off_the_pieces(body: Body, style: JacketStyle) -> None:
    """Allowances and notches are those of the edges; pieces are named once."""
    pieces = JACKET.draft(body, replace(style, allowances="trade"))
    step = SewingStep("Armhole", "", (("sleeve", "front cap"), ("front", "armhole")), ("front", "back"))
    assert step.allowances(pieces) == [round(3 / 8 * 25.4, 2)]
    assert step.notches(pieces) == ["shoulder", "front armhole"]
    assert [piece.name for piece in step.shown(pieces)] == ["sleeve", "front", "back"]


def test_notches_of_an_edge(body: Body, style: JacketStyle) -> None:
    """Of a back's armhole there are two, of its shoulder none."""
    back = JACKET.draft(body, style)["back"]
    assert list(notches_on(back, back.edge("armhole"))) == ["back armhole"] * 2
    assert not list(notches_on(back, back.edge("shoulder")))


WORDS = {"label": "label", "buttons or snaps": "button", "separating zip": "zip", "interfacing": "interfac"}
"""By what words a step tells that a trim is worked in, where not by the trim's own name."""


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ("shirt", {}),
        ("shirt", {"interfacing": "cut", "sleeves": "short", "facing": "separate", "yoke": "back"}),
        ("shirt", {"facing": "separate"}),
        ("robe", {}),
        ("robe", {"front": "open", "neckline": "band", "shoulder": "fold"}),
        ("t-shirt", {}),
        ("sweatshirt", {}),
        ("hoodie", {"pockets": "kangaroo"}),
        ("rib-jacket", {}),
        ("rib-jacket", {"closure": "zip", "ends": "elastic", "lining": "full", "interfacing": "cut"}),
        ("rib-jacket", {"closure": "none", "facing": "grown-on", "neckline": "hood"}),
        ("rib-jacket", {"neckline": "collar", "back_facing": "facing", "yoke": "back"}),
    ],
)
def test_each_trim_is_sewn_in(name: str, asked: dict[str, Any]) -> None:
    """What stands in the shopping list is worked in at some step; thread is, by sewing, and its name is not told."""
    garment, body = GARMENTS[name], find_table("women").body("92")
    style = garment.style(**asked)
    pieces = garment.draft(body, style)
    assert garment.trims and garment.steps
    told = " ".join(f"{step.title} {step.text}" for step in garment.steps(pieces, style)).lower()
    trims = [trim.name for trim in garment.trims(pieces, style)]
    assert "label" in trims and "thread" in trims
    assert not [trim for trim in trims if "thread" not in trim and WORDS.get(trim, trim) not in told]
