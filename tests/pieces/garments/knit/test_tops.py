"""Knit tops: all sizes in their fits, random bodies, steps, trims; what holds of T-shirt, sweatshirt and hoodie."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.body.girths import NAPE
from pieces.body.ranges import SURVEYS
from pieces.body.rules import measured_or_usual
from pieces.body.sizes import TABLES, find_table
from pieces.errors import DraftError
from pieces.garments.ease import LOW, LOW_OF_CHILD
from pieces.garments.knit.girths import SHOULDERS, widest
from pieces.length import mm
from pieces.piece.pieces import walk
from tests.make.lengths import in_mm
from tests.make.random_bodies import bodies

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.piece.outline import Edge
    from pieces.piece.piece import Piece
    from pieces.piece.pieces import PieceSet

INCH = 25.4
TOPS = ("t-shirt", "sweatshirt", "hoodie")
FITS = ("close", "regular", "loose")
LEAST_EASE = {"close": -0.06, "regular": 0.07, "loose": 0.19}
"""Of the chest, as a share of the bust: common practice, no source."""


def sizes() -> Iterator[Body]:
    """Every size of every table built in."""
    for name in TABLES:
        table = find_table(name)
        yield from (table.body(size) for size in table.sizes)


def distance(edge: Edge, point: tuple[float, float]) -> float:
    """How far along an edge a notch lies, mm, by shapely."""
    return shapely.LineString(edge.points).project(shapely.Point(point))


def notch_distances(piece: Piece, edge: str, name: str, *, from_end: bool) -> list[float]:
    """Where the notches of a name lie on an edge, from the underarm, mm."""
    own = piece.edge(edge)
    found = [distance(own, notch.point) for notch in piece.notches if notch.name == name]
    return sorted(own.length - each for each in found) if from_end else sorted(found)


@pytest.mark.parametrize("garment", TOPS)
def test_every_size(garment: str) -> None:
    """Drafted in two fits: seams meet, notches too, an arm can be lifted, the head gets through, the chest has ease.

    Three fifths of the body's own shoulder are left beside the neckline, 1 1/2 in at the least; common practice, no
    source. The front's neckline ends above the armholes.
    """
    top = GARMENTS[garment]
    drafted = 0
    for number, body in enumerate(sizes()):
        for fit in {"regular", FITS[number % 3]}:
            pieces = top.draft(body, top.style(fit=fit))
            drafted += 1
            assert all(abs(walk(seam, pieces)) < 0.5 for seam in pieces.seams)
            sleeve = pieces["sleeve"]
            for name, from_end in (("front", False), ("back", True)):
                on_cap = notch_distances(sleeve, f"{name} cap", f"{name} armhole", from_end=from_end)
                on_body = notch_distances(pieces[name], "armhole", f"{name} armhole", from_end=False)
                assert on_cap == pytest.approx(on_body, abs=0.5)
                assert len(on_cap) == (1 if name == "front" else 2)
            chest = next(size for size in pieces.finished if size.name == "chest")
            assert chest.ease is not None and chest.ease / body.bust >= LEAST_EASE[fit]
            told = pieces.measures
            assert told["cap_height"] <= told["armhole_seam"] / 3
            is_wide = told["upper_arm"] > 1.65 * body.upper_arm + 0.1
            assert not is_wide or told["cap_height"] >= 0.289 * told["armhole_seam"]
            lower = underarm(pieces) - NAPE * body.neck - measured_or_usual(body, "nape_to_armhole")
            assert 0.4 * 10 <= lower <= (LOW_OF_CHILD if body.wearer == "children" else LOW)
            assert told["neck_opening"] * 1.25 >= told["head"]
            shoulder = pieces["front"].edge("shoulder").length
            assert shoulder >= max(0.6 * (body.across_shoulder / 2 - body.neck / 6), 1.5 * INCH)
            assert pieces["front"].edge("neck").points[-1, 0] < underarm(pieces) - 0.75 * INCH
    assert drafted == 45 + 30


def underarm(pieces: PieceSet) -> float:
    """How far below the body's neck point the armhole ends, mm: the pieces' own frame begins there."""
    return float(pieces["front"].edge("side").points[-1, 0])


@pytest.mark.parametrize("garment", TOPS)
def test_a_child_of_66_cm(garment: str) -> None:
    """A chest of 66 cm: the sleeve is wider than the arm, its cap low, its armhole at most 3 cm under the arm."""
    body = replace(find_table("children").body("134"), bust=mm(660))
    top = GARMENTS[garment]
    pieces = top.draft(body, top.style())
    told = pieces.measures
    assert told["upper_arm"] > 1.1 * body.upper_arm
    assert told["cap_height"] < 0.28 * told["armhole_seam"]
    assert 4 <= underarm(pieces) - NAPE * body.neck - measured_or_usual(body, "nape_to_armhole") <= 30
    assert told["chest"] >= 1.05 * 660
    assert not any(note.startswith("armhole") for note in pieces.notes)


@pytest.mark.parametrize("garment", TOPS)
def test_steps(garment: str) -> None:
    """Each seam is sewn in one step, each piece is shown, and rings are closed before they are sewn on."""
    top = GARMENTS[garment]
    for asked in ({}, {"pockets": "kangaroo"} if garment != "t-shirt" else {"sleeves": "long"}):
        style = top.style(**asked)
        pieces = top.draft(find_table("women").body("92"), style)
        assert top.steps is not None
        steps = top.steps(pieces, style)
        for seam in pieces.seams:
            edges = {*seam.first, *seam.second}
            assert sum(edges <= set(step.edges) for step in steps) == 1
        assert {piece.name for step in steps for piece in step.shown(pieces)} == {piece.name for piece in pieces}
        titles = [step.title for step in steps]
        assert titles.index("Shoulders") < titles.index("Sleeves") < titles.index("Side and underarm seams")
        last = "Hem band" if garment != "t-shirt" else "Hems"
        assert titles.index("Side and underarm seams") < titles.index(last) < titles.index("Last")
        if garment != "t-shirt":
            assert titles.index("Bands to rings") < titles.index("Cuffs")


@pytest.mark.parametrize("garment", TOPS)
def test_trims(garment: str) -> None:
    """Thread by all that is sewn, and one label; nothing that would close or draw it: no zip, no elastic, no cord."""
    top = GARMENTS[garment]
    style = top.style()
    pieces = top.draft(find_table("women").body("92"), style)
    assert top.trims is not None
    found = {trim.name: trim for trim in top.trims(pieces, style)}
    assert set(found) == {"thread", "overlock thread", "label"}
    seams = sum(
        pieces[piece].edge(edge).length * pieces[piece].cut * (2 if pieces[piece].on_fold else 1)
        for seam in pieces.seams
        for piece, edge in seam.first
    )
    assert found["thread"].needed > 2.8 * seams
    assert set(found["thread"].where) >= {seam.name for seam in pieces.seams}


def test_round_the_shoulders() -> None:
    """The shares are the survey's means: 1028.2 and 1178.6 mm over the width kept of them (ANSUR II, 2014)."""
    kept = {wearer: survey["across_shoulder"].mean for wearer, survey in SURVEYS.items()}
    assert SHOULDERS["women"] == pytest.approx(1028.2 / kept["women"], abs=0.001)
    assert SHOULDERS["men"] == pytest.approx(1178.6 / kept["men"], abs=0.001)
    body = find_table("women").body("88")
    assert widest(body) == pytest.approx(396 * 2.521)
    assert widest(replace(body, across_shoulder=mm(330.0), bust=mm(900.0))) == 900


def test_try_on() -> None:
    """Length, sleeve, girth, armhole and sleeve follow a try-on; what does not is said."""
    top, body = GARMENTS["sweatshirt"], find_table("men").body("100")
    before = top.draft(body, top.style())
    tried = {"longer": 20.0, "sleeve_longer": 10.0, "wider": 40.0, "armhole_lower": 8.0, "arm_wider": 15.0}
    corrected = replace(body, tried_on=corrections_of({**tried, "back_rounder": 10.0}))
    after = top.draft(corrected, top.style())
    sizes = [{size.name: size.garment for size in pieces.finished} for pieces in (before, after)]
    grown = {name: sizes[1][name] - sizes[0][name] for name in sizes[0]}
    assert grown["length from the neck point"] == pytest.approx(20)
    assert grown["sleeve from the shoulder point"] == pytest.approx(10, abs=0.01)
    assert grown["chest"] == pytest.approx(40)
    assert underarm(after) - underarm(before) == pytest.approx(8)
    assert grown["upper arm"] > 14
    notes = [note for note in after.notes if note.startswith("try-on")]
    assert len(notes) == 6 and [note for note in notes if "left out" in note] == [notes[-1]]


ASKED: dict[str, Any] = {
    "fit": st.sampled_from(FITS),
    "length": st.none() | st.floats(14 * INCH, 40 * INCH),
    "ease": st.none() | st.floats(0, 12 * INCH),
    "seam": st.floats(4, 20),
    "neck_wider": st.none() | st.floats(0, 80),
    "swatch": st.none() | st.floats(1.05, 3.0),
    "knit": st.none() | st.floats(1.05, 2.0),
    "pockets": st.sampled_from(["none", "kangaroo"]),
    "rib_depth": st.floats(20, 100),
}


@given(st.data())
@settings(max_examples=40)
def test_random_bodies(data: st.DataObject) -> None:
    """Whatever body and options: sound pieces that can be pulled on, or one line that says what to change."""
    top = GARMENTS[data.draw(st.sampled_from(TOPS))]
    wearer = data.draw(st.sampled_from(("women", "men", "children")))
    body = Body(wearer=wearer, **in_mm(data.draw(bodies(wearer))))  # type: ignore[arg-type]
    asked = data.draw(st.fixed_dictionaries(ASKED))
    for cloth in ("swatch", "knit"):
        ratio = asked.pop(cloth)
        if ratio is not None:
            asked |= {f"{cloth}_relaxed": 100.0, f"{cloth}_stretched": 100.0 * ratio}
    known = {option.name for option in top.options()}
    style = top.style(**in_mm({name: value for name, value in asked.items() if name in known and value is not None}))
    try:
        pieces = top.draft(body, style)
    except DraftError as error:
        assert str(error) and "\n" not in str(error)
        return
    pieces.check()
    assert all(abs(walk(seam, pieces)) < 0.5 for seam in pieces.seams)
    told = pieces.measures
    if style.knit is not None:
        assert told["neck_opening"] * style.knit.ratio >= told["head"] - 1e-6
        assert told["chest"] * style.knit.ratio >= body.bust - 1e-6
    if style.rib is not None and "neckband_sewn_length" in told:
        assert told["neckband_sewn_length"] * style.rib.ratio >= told["head"] - 1e-6
    assert all(math.isfinite(size.garment) and size.garment > 0 for size in pieces.finished)
