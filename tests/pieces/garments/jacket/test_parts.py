"""What is added to a jacket: where pockets lie, and what is interfaced."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.body.sizes import find_table
from pieces.errors import DraftError
from pieces.length import mm

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


def materials(style: JacketStyle, body: Body, **asked: Any) -> dict[str, tuple[str, int]]:
    """Material and number of each piece of a style with other options."""
    return {piece.name: (piece.material, piece.cut) for piece in JACKET.draft(body, replace(style, **asked))}


@pytest.mark.parametrize(
    ("pockets", "new"),
    [
        ("patch", {"patch pocket": ("shell", 2)}),
        ("side-seam", {"pocket bag": ("lining", 4)}),
        ("welt", {"welt": ("shell", 2), "pocket strip": ("shell", 2), "pocket bag": ("lining", 4)}),
    ],
)
def test_pockets(pockets: str, new: dict[str, tuple[str, int]], body: Body, style: JacketStyle) -> None:
    """Each kind adds its own pieces, of their own cloth; the rest stays as it was."""
    plain, made = materials(style, body), materials(style, body, pockets=pockets)
    assert {name: made[name] for name in made if name not in plain} == new
    assert plain.items() <= made.items()


@pytest.mark.parametrize("pockets", ["patch", "welt"])
def test_place_on_the_front(pockets: str, body: Body, style: JacketStyle) -> None:
    """The place of a pocket lies within the sewn front, below the underarm and above the hem."""
    front = JACKET.draft(body, replace(style, pockets=pockets))["front"]  # type: ignore[arg-type]
    place = shapely.LineString(front.inner[-1].points)
    assert shapely.Polygon(front.sew_line).buffer(-0.4 * INCH).covers(place)
    assert place.bounds[0] > front.edge("side").points[-1, 0] + INCH


def test_side_pocket_notches_meet(body: Body, style: JacketStyle) -> None:
    """Back and front have the same notches at the same distances from the hem, a mouth apart; so has the bag."""
    pieces = JACKET.draft(body, replace(style, pockets="side-seam", pocket_mouth=mm(6 * INCH)))
    at = {
        name: {
            notch.name: shapely.LineString(pieces[name].edge("side").points).project(shapely.Point(notch.point))
            for notch in pieces[name].notches
            if notch.name.startswith("pocket")
        }
        for name in ("front", "back")
    }
    assert at["front"] == pytest.approx(at["back"])
    assert at["front"]["pocket top"] - at["front"]["pocket end"] == pytest.approx(6 * INCH)


def test_no_room_for_a_pocket(body: Body, style: JacketStyle) -> None:
    """A mouth that is larger than what lies between armhole and hem is refused, with what to do."""
    with pytest.raises(DraftError, match="finds no room") as caught:
        JACKET.draft(body, replace(style, pockets="welt", pocket_mouth=mm(20 * INCH)))
    assert caught.value.about == "pocket_mouth"


@pytest.mark.parametrize(
    ("asked", "faced"),
    [
        ({}, {"front facing interfacing": 2}),
        (
            {"back_facing": "facing", "pockets": "welt", "neckline": "collar"},
            {
                "front facing interfacing": 2,
                "back facing interfacing": 1,
                "welt interfacing": 2,
                "collar interfacing": 1,
            },
        ),
        ({"facing": "none", "closure": "buttons"}, {"front edge interfacing": 2}),
        ({"facing": "none", "closure": "zip"}, {}),
    ],
)
def test_interfacing(asked: dict[str, str], faced: dict[str, int], body: Body, style: JacketStyle) -> None:
    """What is faced, folded or buttoned is interfaced; of a collar one layer."""
    made = materials(style, body, interfacing="cut", **asked)
    assert {name: cut for name, (material, cut) in made.items() if material == "interfacing"} == faced


def test_loop_is_asked_for(body: Body, style: JacketStyle) -> None:
    """There is a hanger loop only where one is asked for."""
    assert "hanger loop" not in materials(style, body)
    assert materials(style, body, hanger_loop="loop")["hanger loop"] == ("shell", 1)


def test_bag_lies_within_the_front() -> None:
    """A bag behind a welt, and one in a side seam, reach neither over the front edge nor below the hem seam."""
    child = find_table("children").body("116")
    for who, length in ((child, "42 cm"), (find_table("women").body("100"), "65 cm")):
        style = JACKET.style(length=length, rib_depth="5 cm", pockets="welt")
        pieces = JACKET.draft(who, style)
        start, end = (np.array(point) for point in pieces["front"].inner[-1].points)
        assert {tuple(start), tuple(end)} <= set(pieces["front"].drill_points)
        bag, along = pieces["pocket bag"], (end - start) / np.hypot(*(end - start))
        above = next(notch.point[0] for notch in bag.notches if notch.name == "pocket top")
        inwards = np.array([along[1], -along[0]])
        hung = start + np.outer(bag.cut_line[:, 0] - above, along) + np.outer(bag.cut_line[:, 1], inwards)
        front = shapely.Polygon(pieces["front"].sew_line)
        assert front.contains(shapely.Polygon(hung))


def test_collar_on_a_close_neckline(body: Body, style: JacketStyle) -> None:
    """Under a collar the neckline is the neck and 2 1/2 in at the most; under a band of rib it is wider."""
    openings = {
        name: JACKET.draft(body, replace(style, neckline=name, closure="zip")).measures["neck_opening"]
        for name in ("band", "collar", "hood")
    }
    assert body.neck < openings["collar"] == openings["hood"] < body.neck + 2.5 * INCH
    assert openings["band"] > openings["collar"]


def test_what_is_not_used_is_said(body: Body, style: JacketStyle) -> None:
    """Options of parts that are not asked for change nothing, and say so."""
    asked = replace(style, pocket_mouth=mm(100.0), hood_height=mm(300.0), bust_shape="dart")
    notes = " ".join(JACKET.draft(body, asked).notes)
    assert all(f"{name}:" in notes for name in ("pocket_mouth", "hood_height", "bust_shape"))
