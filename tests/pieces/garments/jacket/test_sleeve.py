"""The sleeve's cap: solved to its armhole."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from pieces import GARMENTS
from pieces.body.sizes import find_table
from pieces.length import mm

if TYPE_CHECKING:
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


def test_a_dropped_shoulder_flattens_the_cap(style: JacketStyle) -> None:
    """Each inch that the shoulder drops takes 1/4 to 1 in off the cap, and an inch off the sleeve."""
    body = find_table("women").body("92")
    drafts = [JACKET.draft(body, replace(style, drop_shoulder=mm(drop * INCH))) for drop in range(4)]
    caps = [pieces.measures["cap_height"] / INCH for pieces in drafts]
    sleeves = [pieces.measures["sleeve_cut_length"] / INCH for pieces in drafts]
    assert all(0.25 <= before - after <= 1.1 for before, after in itertools.pairwise(caps))
    assert all(before - after == pytest.approx(1, abs=1e-4) for before, after in itertools.pairwise(sleeves))


def test_no_cap_is_too_high_to_lift_an_arm() -> None:
    """In every size and fit the cap is a third of its armhole at the most, unless the room is as asked for."""
    child = find_table("children").body("128")
    style = JACKET.style(length="50 cm", rib_depth="5 cm", fit="loose")
    for table in ("women", "men", "children"):
        sizes = find_table(table)
        for size in sizes.sizes[::2]:
            for fit in ("close", "regular", "loose"):
                pieces = JACKET.draft(sizes.body(size), replace(style, fit=fit))
                assert pieces.measures["cap_height"] <= pieces.measures["armhole_seam"] / 3 + 0.1
    narrow = JACKET.draft(child, replace(style, sleeve_room=mm(60.0)))
    assert narrow.measures["cap_height"] > narrow.measures["armhole_seam"] / 3
