"""Sizes drawn over one another become sizes: measured side by side, with grade rules from one to the others."""

from __future__ import annotations

from typing import TYPE_CHECKING, get_args

import pytest
import shapely

from pieces.errors import FormatError, SeveralSizesError
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.own.grading import read_grading
from pieces.exchange.own.sidecar import Sidecar, sidecar_of
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sized import SizedFile, read_sizes
from tests.make.nests import BESIDE, Twist, nest_of

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


@pytest.mark.parametrize("twist", get_args(Twist))
@pytest.mark.parametrize("seed", [1, 2])
def test_random_nests_are_never_wrong_without_a_word(tmp_path: Path, seed: int, twist: Twist) -> None:
    """By the rules each piece in each size is as drawn, no farther off than is told; what has none is named."""
    made = nest_of(tmp_path / "a.svg", seed, twist)
    middle = len(made.sizes) // 2
    try:
        sized = compared(tmp_path / "a.svg", made.sizes[middle] or str(middle + 1))
        (tmp_path / "rules.toml").write_text(sized.text("drawn"))
    except FormatError as error:
        assert twist in ("missing", "mirrored"), error
        return
    found = import_pieces(tmp_path / "a.svg", ReadingChoices(size=sized.base))
    grading = read_grading(tmp_path / "rules.toml")
    by_name = {piece.name: piece for piece in sized.pieces}
    if twist not in ("missing", "mirrored", "points"):
        assert all(piece.rules for piece in sized.pieces)
    for size, graded in [(each, piece) for each in grading.sizes for piece in grading.sized(found.pieces, each)]:
        if graded.name not in grading.rules:
            assert any(f"'{graded.name}' has no rules" in said for said in sized.words())
            continue
        at = made.sizes.index(size) if made.sizes[0] else int(size) - 1
        truth = made.drawn.get((int(found.drawn[graded.name].outline[:, 0].mean() // BESIDE), at))
        if truth is None:
            assert any(f"size {size} is made by the rules alone" in said for said in sized.words())
            continue
        lines = shapely.LinearRing(graded.sew_line), shapely.LinearRing(truth)
        assert shapely.hausdorff_distance(*lines, densify=0.01) < (by_name[graded.name].off or 0.0) + 0.3


def drawn(path: Path, groups: Sequence[tuple[str, Sequence[tuple[int, int]]]]) -> Path:
    """Panels that are left at the bottom, at a place and in a step, in groups with the names of sizes."""
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="900mm" height="500mm" viewBox="0 0 900 500">'
    panels = [
        (size, "".join(f'<path d="M{at} 20H{at + 200 + 10 * k}L{at + 150 + 10 * k} {320 + 10 * k}H{at}Z"/>'
                       for at, k in those)) for size, those in groups
    ]  # fmt: skip
    body = "".join(f'<g id="{size}" fill="none" stroke="#000">{paths}</g>' for size, paths in panels)
    path.write_text(f"{head}{body}</svg>")
    return path


def test_a_piece_is_compared_with_its_own_sizes(tmp_path: Path) -> None:
    """Two panels without names, in another order in one of the sizes: each is measured by the outlines over its own."""
    groups = [("S", [(0, 0), (400, 3)]), ("M", [(400, 4), (0, 1)]), ("L", [(0, 2), (400, 5)])]
    sized = compared(drawn(tmp_path / "a.svg", groups))
    long = {tuple(round(piece.measured[size][0]) for size in SIZES) for piece in sized.pieces}
    assert long == {(200, 210, 220), (230, 240, 250)}
    assert all(piece.off is not None and piece.off < 0.1 for piece in sized.pieces)


def test_sizes_that_not_all_pieces_have_are_in_order(tmp_path: Path) -> None:
    """The first piece lacks the smallest: it comes first all the same. Where sizes are but counted, that is told."""
    path = drawn(tmp_path / "a.svg", [("S", [(400, 0)]), *((s, [(0, k), (400, k)]) for s, k in (("M", 1), ("L", 2)))])
    path.write_text(path.read_text().replace("</svg>", '<g id="XL"><path fill="none" stroke="#000" '
                                             'd="M0 20H230L180 350H0Z"/></g></svg>'))  # fmt: skip
    found = import_pieces(path, ReadingChoices(size="M"))
    assert found.report.sizes == ("S", "M", "L", "XL")
    assert not any("have names" in said for said in found.report.guesses)
    sized = compared(path)
    assert (sized.sizes, len(sized.without)) == (("M", "L"), 2)
    assert any("size XL is left out" in said for said in sized.words())
    groups = [("", [(0, k) for k in range(5)]), ("", [(400, k) for k in (0, 2, 4)])]
    counted = import_pieces(drawn(path, groups), ReadingChoices(size="2"))
    assert any("in 3 and in 5 sizes" in said for said in counted.report.guesses)
