"""What an SVG shows, and what of it nobody sees: clip paths, masks and white lines are said, and not followed.

Clipping and masking: SVG 1.1, chapter 14 (from memory).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from tests.make.drawings import read

if TYPE_CHECKING:
    from pathlib import Path

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">'
CLIP = (
    '<defs><clipPath id="c"><rect width="50" height="300"/></clipPath>'
    '<mask id="m"><rect width="9" height="9"/></mask></defs>'
)
FRONT = '<rect id="front" x="20" y="20" width="100" height="80" {}/>'


@pytest.mark.parametrize(
    ("look", "said"),
    [
        ('fill="none" stroke="black" clip-path="url(#c)"', "1 shape lies behind a clip path or a mask"),
        ('fill="none" stroke="black" style="mask:url(#m)"', "1 shape lies behind a clip path or a mask"),
        ('fill="none" stroke="#FFF"', "1 shape is drawn only in white"),
        ('fill="white" style="stroke: rgb(255, 255, 255)"', "1 shape is drawn only in white"),
    ],
)
def test_what_nobody_sees_is_said(tmp_path: Path, look: str, said: str) -> None:
    """It is read whole, said, and refused by a strict reading."""
    (tmp_path / "a.svg").write_text(HEAD + CLIP + FRONT.format(look) + "</svg>", encoding="utf-8")
    done = read(tmp_path / "a.svg", grain=0)
    assert len(done.pieces) == 1
    assert any(said in remark for remark in done.report.remarks)
    with pytest.raises(FormatError, match=said):
        read(tmp_path / "a.svg", strict=True, grain=0)


@pytest.mark.parametrize("look", ['fill="none" stroke="black"', 'fill="white" stroke="black" clip-path="none"'])
def test_what_is_seen_is_clean(tmp_path: Path, look: str) -> None:
    """A black line round white is seen, and no clip path is none."""
    (tmp_path / "a.svg").write_text(HEAD + CLIP + FRONT.format(look) + "</svg>", encoding="utf-8")
    assert len(read(tmp_path / "a.svg", strict=True, grain=0).pieces) == 1


@pytest.mark.parametrize(("medium", "pieces"), [("print", 1), ("screen and (color)", 1), ("screen", 0)])
def test_rules_for_other_media_are_not_followed(tmp_path: Path, medium: str, pieces: int) -> None:
    """What they hide is taken as visible, as the report says; what a screen does not show is hidden."""
    rules = f".c {{stroke: black}} @media {medium} {{.d {{color: red}} .c {{display: none}}}} .e {{fill: red}}"
    drawn = f"<style>{rules}</style>" + FRONT.format('class="c" fill="none"')
    (tmp_path / "a.svg").write_text(HEAD + drawn + '<path d="M200 20h90v90h-80z"/></svg>', encoding="utf-8")
    found = read(tmp_path / "a.svg", grain=0)
    assert sum(piece.name == "front" for piece in found.pieces) == pieces
    assert any("what they hide is taken as visible" in said for said in found.report.guesses)
