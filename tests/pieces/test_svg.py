"""Small drawings as SVG: to scale, the right way up, and sound XML whatever the words."""

from __future__ import annotations

from xml.etree import ElementTree

import numpy as np
import pytest

from pieces.svg import HIGHEST, LETTERS, WIDEST, SvgLine, SvgWords, draw

SQUARE = [(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)]


def read(text: str, tag: str) -> list[ElementTree.Element]:
    """Elements of one kind."""
    return [element for element in ElementTree.fromstring(text).iter() if element.tag.endswith(tag)]


def points(element: ElementTree.Element) -> np.ndarray:
    """Where a line runs, pixels."""
    return np.array([pair.split(",") for pair in element.attrib["points"].split()], dtype=float)


def test_to_scale_and_upwards() -> None:
    """Twice as wide as high stays so, as large as the page allows; what is up in the cloth is up on the screen."""
    (line,) = read(draw([SvgLine(SQUARE)], [], "a"), "polygon")
    low, high = points(line).min(axis=0), points(line).max(axis=0)
    assert high - low == pytest.approx([WIDEST, WIDEST / 2], abs=0.02)
    assert points(line)[0] == pytest.approx([LETTERS, LETTERS + WIDEST / 2], abs=0.02)  # the lowest left corner
    tall = points(read(draw([SvgLine([(y, x) for x, y in SQUARE])], [], "a"), "polygon")[0])
    assert np.ptp(tall, axis=0)[1] == pytest.approx(HIGHEST, abs=0.02)


def test_an_open_line_is_no_polygon() -> None:
    """It does not go back to where it began."""
    assert len(read(draw([SvgLine(SQUARE, closed=False)], [], "a"), "polyline")) == 1


def test_words_are_left_out_where_they_would_be_too_small() -> None:
    """Room for the one, none for the other."""
    words = [SvgWords(100, 50, "sleeve", 200.0), SvgWords(100, 50, "sleeve", 2.0)]
    assert [element.text for element in read(draw([SvgLine(SQUARE)], words, "a"), "text")] == ["sleeve"]


@pytest.mark.parametrize("words", ["<&>", "a\0b", "\ud800", "\ufffe"])
def test_any_words_make_sound_xml(words: str) -> None:
    """Signs that XML cannot hold become spaces; the others stay."""
    (title,) = read(draw([SvgLine(SQUARE)], [], words), "title")
    assert title.text == ("<&>" if words == "<&>" else "a b" if words[0] == "a" else " ")
