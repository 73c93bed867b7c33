"""Corrections from a try-on, and what they do to a draft."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from pieces import GARMENTS, Body
from pieces.body.body import measurement_names
from pieces.body.corrections import CORRECTIONS, Corrections, corrections_of
from pieces.body.sizes import find_table
from pieces.errors import MeasurementError
from pieces.length import mm

if TYPE_CHECKING:
    from pieces import PieceSet
    from pieces.garments import JacketStyle

JACKET = GARMENTS["rib-jacket"]


def test_each_has_its_opposite() -> None:
    """Of each thing there are two corrections, one more and one less; none is called as a measurement is."""
    signs = sorted((each.of, each.sign) for each in CORRECTIONS.values())
    assert signs == sorted((of, sign) for of in Corrections.__dataclass_fields__ for sign in (-1, 1))
    assert not set(CORRECTIONS) & set(measurement_names())


def test_opposite_ones_are_summed_up() -> None:
    """A sleeve 1 cm longer and 3 cm shorter is 2 cm shorter; and so it is told."""
    found = corrections_of({"sleeve_longer": 10.0, "sleeve_shorter": 30.0, "wider": 20.0})
    assert (found.sleeve, found.ease) == (-20.0, 20.0)
    assert list(found.words()) == ["sleeve shorter by 3/4 in (20 mm)", "wider all round by 3/4 in (20 mm)"]


def test_too_large_a_correction_is_refused() -> None:
    """20 cm are no correction, in either direction."""
    for of in ("wider", "narrower"):
        with pytest.raises(MeasurementError, match=r"a correction of the ease by .* is too large"):
            corrections_of({of: 200.0})


@pytest.mark.parametrize("fit", ["close", "loose"])
def test_each_changes_what_it_says(fit: str, body: Body, style: JacketStyle) -> None:
    """By 12 mm: the finished sizes and the armholes of the draft, measured on its pieces; nothing else in length."""
    plain = replace(style, fit=fit, ease=None)  # type: ignore[arg-type]
    body = replace(body, armhole_depth=None)
    before = sizes(JACKET.draft(body, plain))
    for name, correction in CORRECTIONS.items():
        if correction.of not in before:
            continue  # of posture and sides: tested with the shapes they give
        drafted = JACKET.draft(replace(body, tried_on=corrections_of({name: 12.0})), plain)
        after, by = sizes(drafted), 12.0 * correction.sign
        assert after[correction.of] - before[correction.of] == pytest.approx(by, abs=0.3), name
        others = {"length", "sleeve", "ease", "arm"} - {correction.of}
        assert {of: after[of] for of in others} == pytest.approx({of: before[of] for of in others}, abs=0.05), name
        assert f"try-on: {correction.words} by 1/2 in (12 mm)" in drafted.notes


def sizes(pieces: PieceSet) -> dict[str, float]:
    """What can be corrected, as the pieces have it, mm."""
    finished = {size.name: size.garment for size in pieces.finished}
    across = {name: 2 * float(pieces[name].edge("armhole").points[:, 1].min()) for name in ("back", "front")}
    armhole = pieces["back"].edge("armhole").points
    return {
        "length": finished["length from the neck point"],
        "sleeve": finished["sleeve from the shoulder point"],
        "ease": finished["chest"],
        "arm": finished["upper arm"],
        "armhole": float(armhole[0, 0] - armhole[-1, 0]),
        **across,
    }


def test_a_body_without_a_try_on_is_as_it_was(body: Body, style: JacketStyle) -> None:
    """No correction changes nothing, and is not told of."""
    pieces = JACKET.draft(replace(body, tried_on=Corrections(sleeve=mm(0.0))), style)
    assert not [note for note in pieces.notes if note.startswith("try-on")]


@pytest.mark.parametrize("fit", ["close", "regular", "loose"])
@pytest.mark.parametrize("name", ["arm_wider", "arm_narrower"])
def test_a_child_gets_the_sleeve_asked_for(fit: str, name: str) -> None:
    """Where the sleeve is widened for its cap's sake, a correction is not swallowed by that."""
    child = find_table("children").body("116")
    style = JACKET.style(length="45 cm", rib_depth="5 cm", fit=fit)
    before = sizes(JACKET.draft(child, style))["arm"]
    after = sizes(JACKET.draft(replace(child, tried_on=corrections_of({name: 15.0})), style))["arm"]
    assert after - before == pytest.approx(15.0 * CORRECTIONS[name].sign, abs=0.1)


def test_what_cannot_be_given_is_said() -> None:
    """A child's back made 8 cm wider across, for which its sides leave no room: the draft says by how much less."""
    child = replace(find_table("children").body("116"), tried_on=corrections_of({"back_wider": 80.0}))
    pieces = JACKET.draft(child, JACKET.style(length="45 cm", rib_depth="5 cm", fit="regular"))
    assert any(note.startswith("back: ") and "less than back_width and try-on ask for" in note for note in pieces.notes)


def test_narrower_than_measured_is_no_fault_once_it_is_asked_for(body: Body, style: JacketStyle) -> None:
    """A measured back that a try-on makes 2 cm narrower is drafted so, and no note says that it is too narrow."""
    measured = replace(body, back_width=mm(400.0), armhole_depth=None, tried_on=corrections_of({"back_narrower": 20.0}))
    notes = JACKET.draft(measured, replace(style, fit="regular", ease=None)).notes
    assert not [note for note in notes if note.startswith("back: ")]
