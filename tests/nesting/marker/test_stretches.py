"""Markers of stretches, put one behind the other and taken apart again."""

from __future__ import annotations

from dataclasses import replace

import pytest

from nesting.marker.stretches import join_stretches, split_stretches
from nesting.problem.problem import Problem
from nesting.search.row import lay_in_a_row
from tests.make.jigsaw import jigsaw


def whole(first: Problem, second: Problem, gap: float) -> Problem:
    """A problem of two stretches, their bands and items after one another."""
    bands, items = (*first.bands, *second.bands), (*first.items, *second.items)
    return Problem(bands, items, gap, stretches=(first, second), loosest=first)


def test_lengths_add_up_with_the_buffer_between() -> None:
    """The second begins 5 mm behind the first; its outlines keep their places within it."""
    parts = [replace(jigsaw(100.0, 140.0, 3, seed=seed), gap=5.0) for seed in (1, 2)]
    markers = [lay_in_a_row(part) for part in parts]
    marker = join_stretches(whole(parts[0], parts[1], 5.0), markers)
    assert marker.length == pytest.approx(markers[0].length + 5.0 + markers[1].length)
    assert (marker.problem.bands[0].end, marker.problem.bands[1].start) == (
        markers[0].length,
        markers[0].length + 5.0,
    )
    assert marker.placements[4].item == 4
    assert marker.placements[4].x == pytest.approx(markers[1].placements[0].x + markers[0].length + 5.0)


def test_taken_apart_they_are_what_they_were() -> None:
    """Places, items and lengths of each stretch."""
    parts = [replace(jigsaw(100.0, 140.0, 3, seed=seed), gap=5.0) for seed in (1, 2)]
    markers = [lay_in_a_row(part) for part in parts]
    for own, back in zip(
        markers, split_stretches(join_stretches(whole(parts[0], parts[1], 5.0), markers)), strict=True
    ):
        assert back.length == pytest.approx(own.length)
        assert [(p.item, p.copy, p.variant, p.y) for p in back.placements] == [
            (p.item, p.copy, p.variant, p.y) for p in own.placements
        ]
        assert [p.x for p in back.placements] == pytest.approx([p.x for p in own.placements])
