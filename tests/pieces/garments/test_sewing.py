"""A step of sewing: what it says is read off the pieces."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from pieces import GARMENTS, Body
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
