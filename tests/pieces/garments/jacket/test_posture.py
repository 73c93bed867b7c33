"""Bodies with another posture: each shift against the draft without it, by lengths along the pieces."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.body.corrections import corrections_of
from pieces.garments.jacket.posture import densely

if TYPE_CHECKING:
    from pieces.garments import JacketStyle
    from pieces.piece.piece import Piece
    from pieces.piece.pieces import PieceSet

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


@pytest.fixture
def drafted(body: Body, style: JacketStyle) -> Any:
    """Draft the style for the body with corrections, in inches, and other options."""

    def draft(asked: dict[str, float] | None = None, **options: Any) -> PieceSet:
        tried = corrections_of({name: value * INCH for name, value in (asked or {}).items()})
        return JACKET.draft(replace(body, tried_on=tried), replace(style, **options))

    return draft


def centre(piece: Piece) -> float:
    """Length of the centre back, sewn."""
    return piece.edge("centre back").length


def test_rounder_back(drafted: Any) -> None:
    """The centre back is longer by what was asked; armhole and side stay; that the shoulder is eased in is said."""
    usual, found = drafted(), drafted({"back_rounder": 0.75})
    assert centre(found["back"]) - centre(usual["back"]) == pytest.approx(0.75 * INCH, abs=0.01)
    for edge in ("side", "armhole"):
        assert found["back"].edge(edge).length == pytest.approx(usual["back"].edge(edge).length, abs=0.3)
    assert any(note.startswith("shoulder: ease") and "of the back" in note for note in found.notes)


def test_hollow_back(drafted: Any) -> None:
    """The centre back is shorter, the side seam is not."""
    usual, found = drafted(), drafted({"back_hollower": 0.5})
    assert centre(usual["back"]) - centre(found["back"]) == pytest.approx(0.5 * INCH, abs=0.01)
    assert found["back"].edge("side").length == pytest.approx(usual["back"].edge("side").length, abs=0.01)


def test_fuller_seat(drafted: Any) -> None:
    """The hem is wider behind by what was asked, in front as before; the band is longer by as much."""
    usual, found = drafted(), drafted({"seat_fuller": 1.0})
    wider = [2 * np.ptp(one["back"].edge("hem").points[:, 1]) for one in (found, usual)]
    assert wider[0] - wider[1] == pytest.approx(INCH, abs=0.01)
    assert found["front"].edge("hem").length == pytest.approx(usual["front"].edge("hem").length)
    assert found.measures["hem_opening"] - usual.measures["hem_opening"] == pytest.approx(INCH, abs=0.01)


@pytest.mark.parametrize("shape", ["ease", "dart"])
def test_fuller_bust(drafted: Any, shape: str) -> None:
    """The chest is wider by what was asked, in front alone; the centre front longer by half of it."""
    usual, found = drafted(), drafted({"bust_fuller": 2.0}, bust_shape=shape)
    chest = [next(size.garment for size in one.finished if size.name == "chest") for one in (found, usual)]
    assert chest[0] - chest[1] == pytest.approx(2 * INCH, abs=0.01)
    assert found["back"].edge("hem").length == pytest.approx(usual["back"].edge("hem").length)
    longer = found["front"].edge("front edge").length - usual["front"].edge("front edge").length
    assert longer == pytest.approx(INCH, abs=0.01)


def test_dart(drafted: Any) -> None:
    """The side of the front is longer than that of the back by the dart, whose legs end there and meet inside."""
    found = drafted({"bust_fuller": 2.0}, bust_shape="dart")
    front, back = found["front"], found["back"]
    assert front.edge("side").length - back.edge("side").length == pytest.approx(INCH, abs=0.5)
    (low, tip, high) = front.inner[-1].points
    side = shapely.LineString(front.edge("side").points)
    assert np.hypot(*np.subtract(low, high)) == pytest.approx(INCH, abs=0.5)
    assert max(side.distance(shapely.Point(point)) for point in (low, high)) < 0.01
    assert shapely.Polygon(front.sew_line).contains(shapely.Point(tip))
    assert any("dart" in note for note in found.notes)


@pytest.mark.parametrize(("name", "sign"), [("front_longer", 1), ("front_shorter", -1)])
def test_front_balance(drafted: Any, name: str, sign: int) -> None:
    """The front edge is longer or shorter by what was asked; sleeve and armhole still meet."""
    usual, found = drafted(), drafted({name: 0.5})
    longer = found["front"].edge("front edge").length - usual["front"].edge("front edge").length
    assert longer == pytest.approx(sign * 0.5 * INCH, abs=0.01)  # the neckline goes with the shoulder
    fronts = [one["front"] for one in (found, usual)]
    reach = [float(front.edge("neck").points[0, 0] - front.edge("hem").points[0, 0]) for front in fronts]
    assert reach[1] - reach[0] == pytest.approx(sign * 0.5 * INCH, abs=0.01)
    assert "sleeve cap and armhole match" in found.notes


def test_usual_body_is_left_alone(drafted: Any) -> None:
    """Without a correction of the posture no point moves."""
    usual, found = drafted(), drafted({"sleeve_longer": 0.5})
    assert np.array_equal(usual["back"].sew_line, found["back"].sew_line)


def test_densely() -> None:
    """Points no further apart than 12 mm, on the same line."""
    line = densely(np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 5.0]]))
    assert np.hypot(*np.diff(line, axis=0).T).max() <= 12.0
    assert shapely.LineString(line).length == pytest.approx(105.0)


def test_seat_and_hollow_back_meet(drafted: Any) -> None:
    """A full seat lengthens the centre back by half of it; a back as hollow takes that away again."""
    usual, full, both = drafted(), drafted({"seat_fuller": 1.0}), drafted({"seat_fuller": 1.0, "back_hollower": 0.5})
    assert centre(full["back"]) - centre(usual["back"]) == pytest.approx(0.5 * INCH, abs=0.01)
    assert centre(both["back"]) == pytest.approx(centre(usual["back"]), abs=0.01)


def test_legs_of_a_dart(drafted: Any) -> None:
    """Its legs are as long as one another, within a millimetre; a flatter bust has no dart, and its front no longer."""
    for inches in (1.0, 3.0):
        (low, tip, high) = drafted({"bust_fuller": inches}, bust_shape="dart", fit="regular")["front"].inner[-1].points
        assert np.hypot(*np.subtract(low, tip)) == pytest.approx(np.hypot(*np.subtract(high, tip)), abs=1.0)
    flat = drafted({"bust_flatter": 1.0}, bust_shape="dart")
    assert not any("dart" in note.lower() and "sew" in note for note in flat.notes)
    assert flat["front"].edge("side").length == pytest.approx(flat["back"].edge("side").length, abs=0.5)
