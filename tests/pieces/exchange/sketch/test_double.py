"""Lines drawn as bands: a square of 100 mm by two edges, made here."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from tests.make.drawings import area, corners, read, svg

if TYPE_CHECKING:
    from pathlib import Path


def band(width: float, *, apart: bool = False) -> str:
    """The square as a line so wide, by one filled path or by two outlines."""
    half = width / 2
    edges = [f"M{50 - s} {50 - s}h{100 + 2 * s}v{100 + 2 * s}h{-100 - 2 * s}z" for s in (half, -half)]
    if apart:
        return "".join(f'<path d="{d}" fill="none" stroke="black"/>' for d in edges)
    return f'<path fill-rule="evenodd" fill="#000" d="{" ".join(edges)}"/>'


@pytest.mark.parametrize(("width", "apart"), [(0.5, False), (1.8, False), (0.5, True)])
def test_the_line_midway_is_used(tmp_path: Path, width: float, apart: bool) -> None:
    """Whatever the width, the piece is the square of 100 mm without a hole; that is guessed, and told."""
    found = read(svg(tmp_path / "a.svg", band(width, apart=apart)))
    (piece,) = found.pieces
    assert area(piece) == pytest.approx(10_000, rel=1e-6) and not piece.inner
    assert corners(piece) == {(50, -150), (150, -150), (150, -50), (50, -50)}
    assert any(f"drawn as a band, {width:.2g} mm wide" in said for said in found.report.guesses)


def test_what_lies_within_a_band_stays(tmp_path: Path) -> None:
    """A line inside belongs to the piece, and a frame of cloth wider than a line is a frame with a hole."""
    inner = '<path d="M80 80h40" stroke="black"/>'
    (piece,) = read(svg(tmp_path / "a.svg", band(0.5) + inner)).pieces
    assert [line.kind for line in piece.inner] == ["line"]
    (frame,) = read(svg(tmp_path / "b.svg", band(8.0))).pieces
    assert [line.kind for line in frame.inner] == ["cutout"]


def test_sizes_close_to_one_another_are_no_band(tmp_path: Path) -> None:
    """Three outlines 0.8 mm apart are asked about as sizes."""
    three = "".join(
        f'<rect id="{name}" x="{50 - s}" y="{50 - s}" width="{100 + 2 * s}" height="{100 + 2 * s}" rx="30"/>'
        for name, s in (("S", 0.0), ("M", 0.8), ("L", 1.6))
    )
    with pytest.raises(FormatError, match="choose one with --size"):
        read(svg(tmp_path / "a.svg", three.replace("<rect", '<rect fill="none" stroke="black"')))
