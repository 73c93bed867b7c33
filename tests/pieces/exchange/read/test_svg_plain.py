"""Drawings of groups and known paths: each shape lies where the library has it, and what is handed down is there."""

from __future__ import annotations

import io
from typing import Any
from xml.etree import ElementTree

import pytest
import svgelements  # type: ignore[import-untyped]

from pieces.exchange.read.svg_paths import KnownPaths
from pieces.exchange.read.svg_plain import plain_shapes

SOURCE = "data-ell-source"

SIDES = 'xmlns="http://www.w3.org/2000/svg" width="210" height="100" viewBox="10 5 105 100" data-ell-is-fill="none"'


def both(inner: str, sides: str = SIDES) -> tuple[Any, list[tuple[str, Any]]]:
    """What we find in a drawing, and the source and transform of each shape as the library finds them."""
    root = ElementTree.fromstring(f"<svg {sides}>{inner}</svg>")
    known = KnownPaths(root, SOURCE)
    drawn = svgelements.SVG.parse(io.BytesIO(ElementTree.tostring(root)), reify=False, ppi=96.0)
    theirs = [
        (str(each.values[SOURCE]), each.transform) for each in drawn.elements() if isinstance(each, svgelements.Shape)
    ]
    return plain_shapes(root, known, 96.0), theirs


def test_as_the_library() -> None:
    """Groups in groups, with transforms of every kind; what is in templates is not drawn."""
    inner = f"""
        <defs><path {SOURCE}="0" d="M0 0L1 1"/></defs>
        <g transform="translate(10,-2.5) rotate(30 1 2)" data-ell-layer="a">
            <path {SOURCE}="1" d="M0 0L5 5"/>
            <g transform="scale(2)" data-ell-layer="b">
                <polygon {SOURCE}="2" points="0,0 4,0 4,3" transform="skewX(9)"/>
            </g>
            <polyline {SOURCE}="3" points="0,0 4,0 4,3" transform="matrix(1 .5e-1 0 -1 3 4)"/>
        </g>
        <path {SOURCE}="4" d="M0 0C1 1 2 2 3 0Z"/>"""
    for sides in (SIDES, 'xmlns="http://www.w3.org/2000/svg"', f'{SIDES} transform="rotate(5)"'):
        ours, theirs = both(inner, sides)
        assert [values[SOURCE] for values, _ in ours] == [source for source, _ in theirs] == ["1", "2", "3", "4"]
        for (_, transform), (_, other) in zip(ours, theirs, strict=True):
            assert all(getattr(transform, name) == getattr(other, name) for name in "abcdef")
    ours, _ = both(inner)
    assert [values.get("data-ell-layer") for values, _ in ours] == ["a", "b", "a", None]
    assert all(values["data-ell-is-fill"] == "none" for values, _ in ours)


@pytest.mark.parametrize(
    "inner",
    [
        f'<defs><path id="a" {SOURCE}="1" d="M0 0L1 1"/></defs><use href="#a" {SOURCE}="2"/>',
        f'<svg viewBox="0 0 2 2"><path {SOURCE}="1" d="M0 0L1 1"/></svg>',
        f'<path {SOURCE}="1" d="M0 0L1 1" transform="translate(1cm 5%)"/>',
        f'<path {SOURCE}="1" d="M0 0L1 1" transform="rotate(3"/>',
        f'<path {SOURCE}="1" d="M0 0A1 1 0 0 1 2 2"/>',
        f'<rect {SOURCE}="1" width="3" height="2"/>',
        f'<path {SOURCE}="1" d="M0 0L1 1"><g/></path>',
    ],
)
def test_left_to_the_library(inner: str) -> None:
    """Copies, drawings in drawings, lengths with a unit, and whatever is not a known path."""
    root = ElementTree.fromstring(f"<svg {SIDES}>{inner}</svg>")
    assert plain_shapes(root, KnownPaths(root, SOURCE), 96.0) is None


def test_no_size() -> None:
    """A drawing without extent draws nothing, which the library is left to say."""
    assert both("", SIDES.replace('width="210"', 'width="0"'))[0] is None
