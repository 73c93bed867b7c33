"""Copies of symbols lie where SVG 1.1, 7.8 puts them."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from pieces.exchange.read.svg_symbol import EDGE, edges, place_copy

BOX = (0.0, 0.0, 400.0, 300.0)


def copy(**attributes: str) -> ElementTree.Element:
    """A use of a symbol."""
    return ElementTree.Element("use", attributes)


@pytest.mark.parametrize(
    ("ratio", "transform"),
    [
        ("", "translate(75.0 20.0) scale(2.0 2.0) translate(0.0 0.0)"),  # in the middle of what is spare
        ("xMinYMid", "translate(10.0 20.0) scale(2.0 2.0) translate(0.0 0.0)"),
        ("none", "translate(10.0 20.0) scale(15.0 2.0) translate(0.0 0.0)"),
        ("xMidYMin slice", "translate(10.0 20.0) scale(15.0 15.0) translate(0.0 0.0)"),
    ],
)
def test_scale_and_place(ratio: str, transform: str) -> None:
    """A view box of 10 by 10 in 150 by 20 at (10, 20): fitted in, filled, or pulled."""
    symbol = ElementTree.Element(
        "symbol", {"viewBox": "0 0 10 10", **({"preserveAspectRatio": ratio} if ratio else {})}
    )
    use = copy(x="10", y="20", width="150", height="20")
    assert place_copy(use, symbol, BOX) == ""
    assert use.get("transform", "").replace("-0.0", "0.0") == transform
    assert use.get("width") is None


@pytest.mark.parametrize(
    ("symbol", "use", "why"),
    [
        ({"viewBox": "0 0 0 1"}, {}, "view box"),
        ({"viewBox": "0 0 1 1"}, {"width": "wide"}, "width and height"),
        ({"viewBox": "0 0 1 1", "preserveAspectRatio": "left"}, {}, "'left'"),
    ],
)
def test_what_is_not_followed_is_said(symbol: dict[str, str], use: dict[str, str], why: str) -> None:
    """And the copy is left as it was."""
    element = copy(**use)
    assert why in place_copy(element, ElementTree.Element("symbol", symbol), BOX)
    assert element.get("transform") is None


def test_edges_say_what_is_seen() -> None:
    """A line round the part that a copy may fill, before it and after it; none where its sides are not known."""
    symbol = ElementTree.Element("symbol")
    around = edges(copy(x="1", y="2", width="50%", height="4"), symbol, BOX)
    assert around is not None
    assert [line.get(EDGE) for line in around] == ["begin", "end"]
    assert around[0].get("d") == "M1.0 2.0h200.0v4.0h-200.0z"
    assert edges(copy(width="50%"), symbol, None) is None
