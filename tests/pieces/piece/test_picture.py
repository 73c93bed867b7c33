"""Pieces in a notebook: one line of words, and a drawing to scale."""

from __future__ import annotations

from xml.etree import ElementTree

import numpy as np
import pytest
import shapely

from pieces import Piece, PieceSet
from pieces.piece.outline import Edge
from pieces.svg import HIGHEST, LETTERS, WIDEST, SvgLine, SvgWords, draw

SVG = "{http://www.w3.org/2000/svg}"


def polygons(svg: str) -> list[shapely.Polygon]:
    """The closed outlines of a drawing, in its own pixels, in order."""
    found = ElementTree.fromstring(svg).iter(f"{SVG}polygon")
    return [
        shapely.Polygon([tuple(map(float, at.split(","))) for at in node.attrib["points"].split()]) for node in found
    ]


def test_a_piece_draws_itself(jacket: PieceSet) -> None:
    """The drawing's cut line is the piece's, to one scale, and its title is the repr."""
    for piece in jacket:
        svg = piece._repr_svg_()
        cut, sewn = polygons(svg)
        true = shapely.Polygon(piece.cut_line)
        scale = (cut.area / true.area) ** 0.5
        assert cut.length / true.length == pytest.approx(scale, rel=2e-3)
        assert sewn.area / shapely.Polygon(piece.sew_line).area == pytest.approx(scale**2, rel=4e-3)
        assert ElementTree.fromstring(svg).findtext(f"{SVG}title") == repr(piece)
        assert max(cut.bounds) <= max(WIDEST, HIGHEST) + LETTERS + 1e-6


def test_a_set_draws_all_its_pieces_apart(jacket: PieceSet) -> None:
    """All pieces are there, at one scale, no two over one another; the repr is one line with their names."""
    outlines = polygons(jacket._repr_svg_())[::2]
    assert len(outlines) == len(jacket)
    scales = [(o.area / shapely.Polygon(p.cut_line).area) ** 0.5 for o, p in zip(outlines, jacket, strict=True)]
    assert max(scales) == pytest.approx(min(scales), rel=1e-2)
    assert not any(a.intersects(b) for i, a in enumerate(outlines) for b in outlines[:i])
    assert repr(jacket).startswith("<PieceSet 'rib-jacket': back, front, ") and "\n" not in repr(jacket)


def test_up_is_up() -> None:
    """What lies higher is drawn higher: the page counts downwards."""
    points = [SvgLine([(0, 0), (100, 0)], closed=False), SvgLine([(0, 50), (100, 50)], closed=False)]
    low, high = (
        float(node.attrib["points"].split()[0].split(",")[1])
        for node in ElementTree.fromstring(draw(points, (), "")).iter(f"{SVG}polyline")
    )
    assert high < low


def test_words_that_fit_and_words_that_do_not() -> None:
    """Words keep within their room: smaller where it is narrow, left out where they could not be read."""
    box = SvgLine([(0, 0), (100, 0), (100, 100), (0, 100)])
    words = [SvgWords(50, 50, "sleeve", 90), SvgWords(50, 20, "sleeve", 6), SvgWords(50, 20, "sleeve", 1)]
    sizes = [float(n.attrib["font-size"]) for n in ElementTree.fromstring(draw([box], words, "")).iter(f"{SVG}text")]
    assert len(sizes) == 2 and LETTERS == sizes[0] > sizes[1] >= 5


def test_any_name() -> None:
    """Names that look like markup, or hold signs that XML may not, are words in a sound drawing."""
    square = np.array([(0, 0), (100, 0), (100, 100), (0, 100), (0, 0)], dtype=float)
    for name in ("<script>x</script>", "a\x00b\ud800\ufffe", "]]>&\"'"):
        piece = Piece(name, (Edge("all", square, 0.0),))
        root = ElementTree.fromstring(piece._repr_svg_())
        assert {node.tag for node in root.iter()} <= {
            f"{SVG}{tag}" for tag in ("svg", "title", "rect", "g", "polygon", "polyline", "text")
        }
        (text,) = (node.text for node in root.iter(f"{SVG}text"))
        assert text == "".join(" " if sign in "\x00\ud800\ufffe" else sign for sign in name)
