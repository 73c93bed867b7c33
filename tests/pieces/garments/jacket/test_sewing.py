"""The order of sewing of a jacket: everything that is drafted is sewn, in an order that can be sewn."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.length import mm

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

JACKET = GARMENTS["rib-jacket"]
ALL: dict[str, Any] = {
    "lining": "full",
    "interfacing": "cut",
    "pockets": "welt",
    "hanger_loop": "loop",
    "yoke": "back",
    "back_facing": "facing",
}
STYLES: list[dict[str, Any]] = [
    {},
    {"closure": "zip", "back": "seam"},
    {**ALL, "neckline": "collar", "sleeve_pieces": "two", "ends": "elastic"},
    {**ALL, "neckline": "hood", "pockets": "side-seam"},
    {"facing": "grown-on", "pockets": "patch", "closure": "none"},
]


@pytest.mark.parametrize("asked", STYLES)
@pytest.mark.parametrize("lower", [0.0, 12.0])
def test_every_seam_and_piece(asked: dict[str, Any], lower: float, body: Body, style: JacketStyle) -> None:
    """Each edge of each seam is sewn in some step, and each piece is shown; left and right differ or not."""
    tried = corrections_of({"left_shoulder_lower": lower} if lower else {})
    styled = replace(style, **asked)
    pieces = JACKET.draft(replace(body, tried_on=tried), styled)
    assert JACKET.steps is not None
    steps = JACKET.steps(pieces, styled)
    sewn = {edge for step in steps for edge in step.edges}
    assert {edge for seam in pieces.seams for edge in (*seam.first, *seam.second)} <= sewn
    shown = {piece.name for step in steps for piece in step.shown(pieces)}
    assert shown == {piece.name for piece in pieces}
    assert all("{" not in step.text for step in steps)


@pytest.mark.parametrize("sleeve_pieces", ["one", "two"])
def test_order(sleeve_pieces: str, body: Body, style: JacketStyle) -> None:
    """Flat sleeves come before the side seams, sleeves in the round after them; shoulders first, bands after sides."""
    styled = replace(style, sleeve_pieces=sleeve_pieces)  # type: ignore[arg-type]
    assert JACKET.steps is not None
    titles = [step.title for step in JACKET.steps(JACKET.draft(body, styled), styled)]
    side = next(i for i, title in enumerate(titles) if title.startswith("Side"))
    assert (titles.index("Sleeves") < side) == (sleeve_pieces == "one")
    assert titles.index("Shoulders") < titles.index("Sleeves") < titles.index("Cuffs")
    assert side < titles.index("Hem band") < titles.index("Neckband") < titles.index("Facings")


def test_words_of_the_bands(body: Body, style: JacketStyle) -> None:
    """A band of rib is stretched on; one of the shell gets its elastic."""
    said = {}
    for ends in ("rib", "elastic"):
        styled = replace(style, ends=ends)
        assert JACKET.steps is not None
        said[ends] = " ".join(step.text for step in JACKET.steps(JACKET.draft(body, styled), styled))
    assert "Stretch the band" in said["rib"] and "elastic" not in said["rib"]
    assert "Draw the elastic in" in said["elastic"]


def said(body: Body, styled: JacketStyle) -> dict[str, str]:
    """What each step of a style says, by its title."""
    assert JACKET.steps is not None
    return {step.title: step.text for step in JACKET.steps(JACKET.draft(body, styled), styled)}


def test_collar_with_facings_and_without(body: Body, style: JacketStyle) -> None:
    """Its inner layer is sewn to the facings before the edges are closed; without any it is sewn down last."""
    collar = replace(style, neckline="collar")
    faced, plain = (
        list(said(body, replace(collar, back_facing="facing"))),
        list(said(body, replace(collar, facing="none"))),
    )
    assert faced.index("Outer layer of the collar") < faced.index("Inner layer of the collar") < faced.index("Facings")
    assert "Collar" not in faced
    assert plain.index("Collar") < plain.index("Inner layer of the collar")
    assert "upper edge of the collar" in said(body, collar)["Facings"]


def test_ends_at_tabs_and_zip_below_a_hood(body: Body, style: JacketStyle) -> None:
    """A hem band that ends at tabs is not sewn to at its ends again; a zip ends at the neckline below a hood."""
    tabs = said(body, replace(style, tab_width=mm(50), ends="elastic"))["Hem band"]
    assert "tabs" in tabs and "right sides together" not in tabs and "front edges" not in tabs
    assert "up to the neckline." in said(body, replace(style, neckline="hood", closure="zip"))["Zip"]
    lined = list(said(body, replace(style, lining="full")))
    assert lined.index("Label") < lined.index("Facings")
