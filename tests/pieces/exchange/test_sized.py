"""Sizes drawn over one another become sizes: measured side by side, with grade rules from one to the others."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError, SeveralSizesError
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.own.grading import read_grading
from pieces.exchange.own.sidecar import Sidecar, sidecar_of
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sized import SizedFile, read_sizes

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

SIZES = ("S", "M", "L")


def nest(path: Path, widths: Sequence[float]) -> Path:
    """A panel with a hollow in three sizes over one another, each so wide."""
    parts = [
        f'<g id="{size}" fill="none" stroke="#000"><path d="M20 20H{20 + wide}V200C{10 + wide} 240 {10 + wide} 280 '
        f'{wide} {320 + wide / 10}H20Z"/></g>'
        for size, wide in zip(SIZES, widths, strict=True)
    ]
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="600mm" height="500mm" viewBox="0 0 600 500">'
    path.write_text(f"{head}{''.join(parts)}</svg>")
    return path


def compared(path: Path, size: str = "M") -> SizedFile:
    """All sizes of a file, beside one."""
    asked = ReadingChoices(size=size)
    return read_sizes(path, asked, Sidecar("told"), import_pieces(path, asked))


def test_the_sizes_are_named_where_none_is_asked_for(tmp_path: Path) -> None:
    """As data, smallest first."""
    with pytest.raises(SeveralSizesError) as refused:
        import_pieces(nest(tmp_path / "a.svg", (200, 212, 224)))
    assert refused.value.sizes == SIZES


@pytest.mark.parametrize("base", SIZES)
def test_rules_lead_to_the_drawn_sizes(tmp_path: Path, base: str) -> None:
    """Even steps of 12 mm: from whichever size, graded pieces are the drawn ones; the file of rules says the same."""
    path = nest(tmp_path / "a.svg", (200, 212, 224))
    sized = compared(path, base)
    (piece,) = sized.pieces
    assert {size: round(long) for size, (long, _) in piece.measured.items()} == {"S": 200, "M": 212, "L": 224}
    assert piece.off is not None
    assert piece.off < 0.1
    (tmp_path / "grading.toml").write_text(sized.text("drawn"))
    grading, pieces = read_grading(tmp_path / "grading.toml"), import_pieces(path, ReadingChoices(size=base)).pieces
    graded = {size: round(next(iter(grading.sized(pieces, size))).length, 1) for size in SIZES}
    assert graded == {"S": 200, "M": 212, "L": 224}


def test_uneven_steps_are_told(tmp_path: Path) -> None:
    """Steps of 12 and 20 mm: one rule for both misses by some mm, which is said."""
    (piece,) = compared(nest(tmp_path / "a.svg", (200, 212, 232))).pieces
    assert piece.off == pytest.approx(4.0, abs=0.5)


def test_one_size_is_none(tmp_path: Path) -> None:
    """A file of one size has none to compare with."""
    with pytest.raises(FormatError, match="no second size"):
        path = nest(tmp_path / "a.svg", (200, 200, 200))
        read_sizes(path, ReadingChoices(), Sidecar("told"), import_pieces(path))


def test_sizes_are_named_by_a_person(tmp_path: Path) -> None:
    """Outlines without a name are counted; once two are named, the one that was read is still found by its number."""
    path = nest(tmp_path / "a.svg", (200, 212, 224))
    path.write_text(path.read_text().replace(' id="S"', "").replace(' id="M"', "").replace(' id="L"', ""))
    with pytest.raises(SeveralSizesError) as refused:
        import_pieces(path)
    assert refused.value.sizes == ("1", "2", "3")
    named = {"line": [{"numbers": [2], "size": "medium"}, {"numbers": [3], "size": "large"}]}
    found = import_pieces(path, ReadingChoices(size="2"), sidecar_of(named, "told"))
    assert (found.report.sizes, found.report.size) == (("1", "medium", "large"), "medium")
    assert [round(piece.length) for piece in found.pieces] == [212]


def test_what_is_said_of_a_piece_holds_in_all_sizes(tmp_path: Path) -> None:
    """Its name and count, said of the outline in M, are those of L as well."""
    told = sidecar_of({"piece": [{"line": 2, "name": "side", "cut": 4}]}, "told")
    for size, long in (("M", 212), ("L", 224)):
        (piece,) = import_pieces(nest(tmp_path / "a.svg", (200, 212, 224)), ReadingChoices(size=size), told).pieces
        assert (piece.name, piece.cut, round(piece.length)) == ("side", 4, long)
