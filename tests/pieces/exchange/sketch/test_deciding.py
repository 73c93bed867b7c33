"""Lines that a person decided on are what she said, whatever would have been guessed of them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from ezdxf.filemanagement import new

from pieces.errors import FormatError
from pieces.exchange.decided.legend import legend_of
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.listing import listing
from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sketch import deciding, explaining
from tests.make.layered import DECIDED, LAYERED, read, told

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.imported import Imported


def ended(found: Imported) -> list[str]:
    """Where each line of the file ended."""
    return [str(entry.place) for entry in found.report.account.entries]


def test_each_line_is_what_is_said(tmp_path: Path) -> None:
    """Two pieces with sew line and grain; the square is a frame, the last outline is left out, and it is said why."""
    found = read(tmp_path, sidecar=told(DECIDED))
    assert ended(found) == [DECIDED[number] for number in range(1, 9)]
    assert {entry.sure for entry in found.report.account.entries} == {"told"}
    assert {(round(p.length), round(p.width), len(p.inner)) for p in found.pieces} == {(400, 300, 1), (280, 200, 1)}
    assert any("you said so" in said for said in found.report.left())


def test_without_a_word_it_is_guessed_and_said_so(tmp_path: Path) -> None:
    """What is sure and what is not is told line by line; nothing that is guessed is called named."""
    found = read(tmp_path)
    shown = listing(found, ReadingChoices())
    sure = {outline["numbers"][0]: outline["sure"] for outline in shown["outlines"]}
    assert sure[8] == "placed"
    assert sure[2] == "guessed" if ended(found)[1] == "frame" else sure[2] in ("placed", "guessed")
    assert set(sure.values()) <= {"named", "placed", "guessed"}
    assert explaining.explain.__doc__


@pytest.mark.parametrize("role", sorted(set(deciding.STANDARD) | {"frame", "left out"}))
def test_every_role_of_a_line_within(tmp_path: Path, role: str) -> None:
    """Whatever a line in the middle of a piece is said to be, all is accounted for; what it cannot be is told."""
    found = read(tmp_path, sidecar=told({5: role}))
    assert ended(found)[4] == ("inner line" if role in ("piece", "fold") else role)
    assert role != "fold" or any("mirror line is not one of its edges" in said for said in found.report.guesses)


def test_an_open_line_that_is_a_cut_line_is_closed(tmp_path: Path) -> None:
    """Three sides of a square, said to be a cut line: a piece, and the side that was missing is told."""
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300">'
        '<path fill="none" stroke="#000" d="M10 10H210V210H10"/></svg>'
    )
    found = read(tmp_path, text, told({1: "piece"}))
    assert [(round(piece.length), round(piece.width)) for piece in found.pieces] == [(200, 200)]
    assert [round(repair.mm) for repair in found.report.repairs] == [200]


def test_lines_of_the_standard(tmp_path: Path) -> None:
    """Layers that the standard gives to inner lines and to grading hold sew lines and a cutout in this file."""
    document = new("R12")
    block = document.blocks.new("FRONT")
    block.add_text("PIECE NAME: front", dxfattribs={"layer": "1"})
    for layer, inset in (("1", 0), ("8", 10), ("5", 40)):
        corners = [(inset, inset), (300 - inset, inset), (300 - inset, 400 - inset), (inset, 400 - inset)]
        block.add_polyline2d(corners, close=True, dxfattribs={"layer": layer})
    document.modelspace().add_blockref("FRONT", (0, 0))
    document.modelspace().add_text("UNITS: METRIC", dxfattribs={"layer": "1"})
    document.saveas(tmp_path / "a.dxf")
    plain = import_pieces(tmp_path / "a.dxf")
    by_layer = {entry.mark.layer: entry for entry in plain.report.account.entries if entry.kind == "closed outline"}
    assert {layer: entry.place for layer, entry in by_layer.items()} == {
        "1": "piece", "8": "inner line", "5": "left out"
    }  # fmt: skip
    assert by_layer["8"].sure == "named"
    decided = told({by_layer["8"].number: "sew line", by_layer["5"].number: "cutout"})
    found = import_pieces(tmp_path / "a.dxf", sidecar=decided)
    assert sorted(line.kind for line in found.pieces["front"].inner) == ["cutout", "sew"]


def test_pieces_named_by_their_line(tmp_path: Path) -> None:
    """Name, count, material, fold and grain by the number of the cut line; a line that is none is told."""
    facts = {"name": "front", "cut": 3, "material": "lining", "grain_line": [[20, -20], [320, -20]]}
    roles = [{"numbers": [number], "role": role} for number, role in DECIDED.items()]
    fold = {"line": 2, "name": "pocket", "fold_line": [[360, -20], [360, -300]]}
    pieces = [{"line": 1, **facts}, fold, {"line": 3, "cut": 9}]
    found = read(tmp_path, sidecar=sidecar_of({"line": roles, "piece": pieces}, "told"))
    front, pocket = found.pieces["front"], found.pieces["pocket"]
    assert (front.cut, front.material, round(front.length), round(front.width)) == (3, "lining", 300, 400)
    assert (pocket.on_fold, round(pocket.length), round(pocket.width)) == (True, 280, 400)
    assert [said for said in found.report.guesses if "line 3" in said and "cut" in said]


def test_pieces_that_are_listed(tmp_path: Path) -> None:
    """Of a table of points a piece is left out, and told; what is left is read as before."""
    rows = [f"{name},{x},{y}" for name in ("a", "b") for x, y in ((0, 0), (200, 0), (200, 100))]
    (tmp_path / "a.csv").write_text("piece,x (mm),y (mm)\n" + "\n".join(rows))
    found = import_pieces(tmp_path / "a.csv", sidecar=told({1: "left out"}))
    assert [piece.name for piece in found.pieces] == ["b"]
    assert [entry.sure for entry in found.report.account.entries] == ["told", None]


def test_a_strict_reading_takes_a_persons_word(tmp_path: Path) -> None:
    """What was guessed is refused; decided line by line, with the grain given, the same file is read."""
    (tmp_path / "a.svg").write_text(LAYERED)
    with pytest.raises(FormatError, match="--strict refuses"):
        import_pieces(tmp_path / "a.svg", ReadingChoices(strict=True))
    assert len(import_pieces(tmp_path / "a.svg", ReadingChoices(strict=True), told(DECIDED)).pieces) == 2


def test_an_outline_drawn_twice_is_the_same(tmp_path: Path) -> None:
    """From another corner and the other way round it is; its mirror image in the same box is another piece."""
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300">'
    one = '<path fill="none" stroke="#000" d="M0 0H200L250 100H50Z"/>'
    again = '<path fill="none" stroke="#000" d="M250 100L200 0H0L50 100Z"/>'
    mirrored = '<path fill="none" stroke="#000" d="M50 0H250L200 100H0Z"/>'
    assert len(read(tmp_path, f"{head}{one}{again}</svg>").pieces) == 1
    assert len(read(tmp_path, f"{head}{one}{mirrored}</svg>").pieces) == 2


@pytest.mark.parametrize("role", ["left out", "frame", "sew line"])
def test_a_legend_that_takes_a_piece_is_told(tmp_path: Path, role: str) -> None:
    """In the hollow of another, of lines end to end: it lies in the box of the other, and not in the other."""
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="400mm" viewBox="0 0 400 400">'
        '<g id="cut" fill="none" stroke="#000"><path d="M0 0H300V50H50V300H0Z"/></g><g id="seam" fill="none" '
        'stroke="#000"><path d="M100 100H280V280"/><path d="M280 280H100V100"/></g></svg>'
    )
    (tmp_path / "a.svg").write_text(text)
    legend = legend_of({"form": "svg", "line": [{"layer": "seam", "role": role}]}, "a legend")
    found = import_pieces(tmp_path / "a.svg", ReadingChoices(legend=legend))
    assert [number for number, _ in found.report.alarms] == [2]


@pytest.mark.parametrize("first", [True, False])
def test_a_grainline_that_is_said_is_before_a_longer_one(tmp_path: Path, first: bool) -> None:
    """The short line is said to be the grain: it is, and the drawn grainline is left out with the reason."""
    short = '<path id="a1" d="M50 50H90"/>'
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300"><g fill="none" '
        f'stroke="#000"><path d="M0 0H300V200H0Z"/>{short if first else ""}<g class="grain"><path d="M20 20V180"/></g>'
        f"{'' if first else short}</g></svg>"
    )
    found = read(tmp_path, text, sidecar=told({2 if first else 3: "grain"}))
    assert sorted(ended(found)) == ["grain", "left out", "piece"]
    assert found.report.account.entries[1 if first else 2].place == "grain"
    assert round(next(iter(found.pieces)).length) == 300


@pytest.mark.parametrize(
    ("words", "material", "is_told"),
    [
        ("FRONT cut 2 shell", "shell", True),
        ("FRONT shell", "shell", True),
        ("FRONT cut 1 interfacing", "interfacing", True),
        ("FRONT cut 2", "lining", False),
        ("FRONT cut 2 shell, cut 2 lining", "shell", False),
    ],
)
def test_words_on_a_piece_are_before_a_legend(tmp_path: Path, words: str, material: str, is_told: bool) -> None:
    """A legend says of a layer what is cut of it; words on the piece say more, and where they differ that is told."""
    (tmp_path / "a.svg").write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="400mm" height="300mm" viewBox="0 0 400 300">'
        '<g id="seamed" fill="none" stroke="#000"><path d="M0 0H300V200H0Z"/></g>'
        f'<text x="50" y="80">{words}</text></svg>'
    )
    legend = legend_of({"form": "svg", "line": [{"layer": "seamed", "material": "lining"}]}, "a legend")
    found = import_pieces(tmp_path / "a.svg", ReadingChoices(legend=legend))
    assert next(iter(found.pieces)).material == material
    assert ([number for number, _ in found.report.alarms] == [1]) is is_told
    assert any("its words are used" in said for said in found.report.guesses) is is_told


def test_what_is_said_twice_of_a_piece(tmp_path: Path) -> None:
    """By two entries for its line: both count, and where they differ that is told."""
    entries = [{"line": 1, "name": "one", "cut": 2}, {"line": 1, "material": "lining", "cut": 4}]
    text = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="300mm" height="300mm" viewBox="0 0 300 300">'
        '<path fill="none" stroke="#000" d="M0 0H200V100H0Z"/></svg>'
    )
    found = read(tmp_path, text, sidecar=sidecar_of({"piece": entries}, "told"))
    assert [(p.cut, p.material) for p in found.pieces if p.name == "one"] == [(4, "lining")]
    assert any("its cut is said twice" in said for said in found.report.guesses)
