"""Lengths of markers that were not laid yet."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from nesting.lays.estimate import estimate_lengths

if TYPE_CHECKING:
    from nesting.lays.order import Mix

AREAS, WIDTH = (600_000.0, 720_000.0), 1500.0


def test_a_known_marker_keeps_its_length() -> None:
    """Whatever the rule says of it."""
    length = estimate_lengths({(1, 1): 1234.5}, areas=AREAS, width=WIDTH)
    assert length((1, 1)) == 1234.5


def test_nothing_is_shorter_than_its_area() -> None:
    """Even where what is known would have it so."""
    length = estimate_lengths({(1, 0): 1.0, (0, 1): 1.0}, areas=AREAS, width=WIDTH)
    assert length((2, 2)) >= 2 * sum(AREAS) / WIDTH


def test_without_a_marker_it_is_the_usual_density() -> None:
    """400 and 480 mm of pure area at 80 %, and a tenth of a garment for the marker."""
    length = estimate_lengths({}, areas=AREAS, width=WIDTH)
    assert length((1, 1)) == pytest.approx(500 + 600 + 0.1 * 550)


def test_many_markers_are_believed() -> None:
    """Lengths that follow a rule near the guess give that rule: 520 mm an S, 590 an M, 60 a marker."""
    known: dict[Mix, float] = {(s, m): 520.0 * s + 590.0 * m + 60.0 for s in range(5) for m in range(5) if s + m}
    length = estimate_lengths(known, areas=AREAS, width=WIDTH)
    assert length((6, 6)) == pytest.approx(520 * 6 + 590 * 6 + 60, rel=2e-3)
