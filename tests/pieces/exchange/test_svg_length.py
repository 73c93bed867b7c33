"""Lengths in an SVG: units of CSS 2.1, 4.3.2, shares by SVG 1.1, 7.10."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from pieces.exchange.svg_length import box_of, inside_of, settle_lengths, side


@pytest.mark.parametrize(
    ("text", "pixels"),
    [
        ("1in", 96),
        ("25.4mm", 96),
        ("2.54cm", 96),
        ("72pt", 96),
        ("6pc", 96),
        ("101.6Q", 96),
        (" 96 ", 96),
        ("1e1px", 10),
    ],
)
def test_units(text: str, pixels: float) -> None:
    """An inch is 96 pixels, 25.4 mm, 72 points, 6 picas."""
    assert side(text, None) == pytest.approx(pixels)


def test_shares() -> None:
    """A share needs to know of what; other words are no length."""
    assert side("25%", 200.0) == 50.0
    assert side("25%", None) is None
    assert side("wide", 200.0) is None


def test_a_view_box_counts_if_it_has_sides() -> None:
    """Four numbers, however they are parted, and no side of 0."""
    assert box_of(ElementTree.Element("svg", viewBox="0,1 20 30")) == (0, 1, 20, 30)
    assert box_of(ElementTree.Element("svg", viewBox="0 0 0 30")) is None
    assert box_of(ElementTree.Element("svg")) is None


def test_what_shares_are_taken_of() -> None:
    """The drawing's own view box; without one, its sides, which may be shares of what is around."""
    around = (0.0, 0.0, 200.0, 100.0)
    assert inside_of(ElementTree.Element("svg", viewBox="0 0 8 9", width="4"), around) == (0, 0, 8, 9)
    assert inside_of(ElementTree.Element("svg", width="50%"), around) == (0, 0, 100, 100)
    assert inside_of(ElementTree.Element("svg", width="50%"), None) is None


def test_lengths_of_a_shape_become_numbers() -> None:
    """Shares across, down, and of a radius by the root of the mean square; what is none is said."""
    shape = ElementTree.Element("circle", cx="50%", cy="50%", r="10%")
    assert settle_lengths(shape, (0.0, 0.0, 300.0, 400.0)) == ""
    assert [float(shape.attrib[key]) for key in ("cx", "cy", "r")] == pytest.approx([150, 200, 500 / 2**0.5 / 10])
    assert settle_lengths(ElementTree.Element("rect", width="2 ells"), None).startswith("its width is '2 ells'")
