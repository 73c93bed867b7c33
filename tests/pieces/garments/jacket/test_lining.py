"""The lining against the shell that it is sewn into."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.garments.jacket.lining import JUMP, PLEAT
from pieces.piece.pieces import walk

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

JACKET = GARMENTS["rib-jacket"]


@pytest.mark.parametrize("facing", ["separate", "grown-on", "none"])
@pytest.mark.parametrize("back_facing", ["none", "facing"])
def test_seams_walk(facing: str, back_facing: str, body: Body, style: JacketStyle) -> None:
    """Every seam of the lining meets; its pieces are of lining."""
    asked = replace(style, lining="full", facing=facing, back_facing=back_facing)  # type: ignore[arg-type]
    pieces = JACKET.draft(body, asked)
    lining = [seam for seam in pieces.seams if "lining" in seam.name]
    assert len(lining) >= 5
    assert max(abs(walk(seam, pieces)) for seam in lining) < 0.1
    assert {piece.name for piece in pieces.of("lining")} == {"back lining", "front lining", "sleeve lining"}


def test_pleat_and_jump(body: Body, style: JacketStyle) -> None:
    """The back lining is a pleat wider on each side of its fold; sides and sleeves are longer by the jump."""
    pieces = JACKET.draft(body, replace(style, lining="full", facing="none"))
    back, shell = pieces["back lining"], pieces["back"]
    assert back.edge("hem").length == pytest.approx(shell.edge("hem").length + PLEAT)
    assert back.edge("neck").length == pytest.approx(shell.edge("neck").length + PLEAT)
    for name, edge in (("back", "side"), ("front", "side"), ("sleeve", "front underarm")):
        longer = pieces[f"{name} lining"].edge(edge).length - pieces[name].edge(edge).length
        assert longer == pytest.approx(JUMP)


def test_takes_no_more_than_the_shell(body: Body, style: JacketStyle) -> None:
    """A lining is smaller than its shell: a pattern house's page says that as much is more than needed."""
    pieces = JACKET.draft(body, replace(style, lining="full", back_facing="facing"))
    shell, lining = (
        sum(shapely.Polygon(piece.unfolded).area * piece.cut for piece in pieces.of(material))
        for material in ("shell", "lining")
    )
    assert 0.6 * shell < lining < shell


def test_dart_of_a_full_bust_is_in_the_lining_too(body: Body, style: JacketStyle) -> None:
    """Its legs are those of the shell; its tip lies beyond the facing, and is marked."""
    full = replace(body, tried_on=corrections_of({"bust_fuller": 40.0}))
    asked = replace(style, lining="full", bust_shape="dart")
    pieces = JACKET.draft(full, asked)
    shell, lining = ([n.point for n in pieces[name].notches if n.name == "dart"] for name in ("front", "front lining"))
    assert lining == shell
    (dart,) = pieces["front lining"].inner
    assert dart.points[1] in pieces["front lining"].drill_points
    assert shapely.Polygon(pieces["front lining"].sew_line).contains(shapely.Point(dart.points[1]))
    assert JACKET.steps is not None
    darts = next(s for s in JACKET.steps(pieces, asked) if s.title == "Darts")
    assert set(darts.pieces) == {"front", "front lining"}
