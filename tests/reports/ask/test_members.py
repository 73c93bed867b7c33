"""The garments of a job: from a body, a size, a file of clients; each counted by itself."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import pytest

from nesting.errors import CheckError
from pieces.errors import PieceError
from pieces.piece.pieces import PieceSet
from reports.ask.draft import draft_whole
from reports.ask.job import parse_job
from reports.ask.members import rib_seam
from reports.ask.one_draft import draft_one
from reports.ask.together import require_all_joined
from reports.errors import JobError
from tests.make.several import BODY, JACKET, SIZED, bag

if TYPE_CHECKING:
    from pathlib import Path

PUPILS = (
    "name,quantity,bust,hip,across_shoulder,neck,upper_arm,wrist,arm_length,length\n"
    "Cleo,1,36 in,38 in,15 in,14 in,11 in,7 in,22 in,24 in\n"
    "Dan,2,38 in,40 in,15 1/2 in,14 in,12 in,7 in,22 in,25 in\n"
    "Eve,1,38 in,40 in,15 1/2 in,14 in,12 in,,22 in,25 in\n"
)


def test_two_jackets() -> None:
    """Two jackets of other bodies and styles: every piece under its label, and as often as both need it."""
    drafted = draft_whole(parse_job(JACKET + SIZED))
    ada, ben = drafted.members
    single = parse_job(f'garment = "rib-jacket"\nbody = {{ {BODY} }}\nstyle = {{ closure = "zip" }}\n')
    alone = draft_one(single)
    assert [piece.name for piece in ada.pieces] == [piece.name for piece in alone]
    assert {piece.name for piece in drafted.pieces} == {
        *(f"Ada: {piece.name}" for piece in ada.pieces),
        *(f"Ben: {piece.name}" for piece in ben.pieces),
    }
    assert (drafted.pieces["Ada: sleeve"].cut, drafted.pieces["Ben: sleeve"].cut) == (2, 4)
    assert drafted.pieces["Ada: sleeve"].cut_line.tolist() == alone["sleeve"].cut_line.tolist()
    drafted.pieces.check()  # the seams of both


def test_clients(tmp_path: Path) -> None:
    """Each row of a file of clients is a garment; what a row lacks is said, and loses no other."""
    (tmp_path / "pupils.csv").write_text(PUPILS, encoding="utf-8")
    entry = '[[garment]]\ngarment = "rib-jacket"\nname = "jacket"\nclients = "pupils.csv"\n'
    drafted = draft_whole(parse_job(entry + bag(tmp_path, "bag", 200, 2), "job.toml", tmp_path))
    assert [(one.label, one.quantity) for one in drafted.members] == [
        ("Cleo jacket", 1),
        ("Dan jacket", 2),
        ("bag", 1),
    ]
    assert drafted.pieces.notes[0].startswith("left out: pupils.csv, line 4 (Eve), column 'wrist'")
    assert drafted.pieces["Dan jacket: sleeve"].cut == 4
    assert drafted.pieces["bag: side"].cut == 2


def test_labels(tmp_path: Path) -> None:
    """Without a name a garment is numbered; two of one name are refused, and so is a draft that cannot be, by name."""
    unnamed = JACKET.replace('name = "Ada"\n', "")
    assert draft_whole(parse_job(JACKET + unnamed)).members[1].label == "garment 2"
    with pytest.raises(JobError, match="two garments are called 'Ada'"):
        draft_whole(parse_job(JACKET + JACKET))
    with pytest.raises(PieceError, match="Ben: 'men-letters' has no size 'XXXS'"):
        draft_whole(parse_job(JACKET + SIZED.replace('"M"', '"XXXS"')))
    with pytest.raises(PieceError, match="Ada: "):
        draft_whole(parse_job(JACKET.replace('closure = "zip"', 'length = "5 in"')))


def test_one_seam() -> None:
    """Bands of one rib are joined with one allowance: two are refused by name."""
    other = SIZED.replace('closure = "buttons"', 'seam = "3/8 in"')
    same, two = (draft_whole(parse_job(JACKET + text)) for text in (SIZED, other))
    assert rib_seam(same.members, parse_job(JACKET).written_in) == 12.7
    with pytest.raises(JobError, match="not Ada 1/2 in, Ben 3/8 in: give all the same seam"):
        rib_seam(two.members, parse_job(JACKET).written_in)


def test_joiner_is_not_trusted() -> None:
    """A set that lacks a piece, cuts one too seldom, has another outline or one too many is found out."""
    drafted = draft_whole(parse_job(JACKET + SIZED))
    first, *rest = drafted.pieces.pieces
    twin = next(piece for piece in drafted.pieces if piece.name == "Ben: sleeve")
    others = tuple(piece for piece in drafted.pieces if piece is not twin)
    wrong = {
        "lacks one": tuple(rest),
        "cut too seldom": (*others, replace(twin, cut=2)),
        "of another garment": (*others, replace(drafted.pieces["Ada: sleeve"], name="Ben: sleeve", cut=4)),
        "one too many": (*drafted.pieces.pieces, replace(first, name="Cleo: back")),
    }
    require_all_joined(drafted.members, drafted.pieces)
    for pieces in wrong.values():
        with pytest.raises(CheckError, match=r"is asked for \d+ times, and was put together \d+ times"):
            require_all_joined(drafted.members, PieceSet("wrong", pieces))


def test_shapes_beside_garments() -> None:
    """Shapes are one more of several garments, under a name of their own; left out, or cut too often, it is seen."""
    shape = '[[shape]]\nname = "patch"\nkind = "circle"\ndiameter = "6 in"\ncut = 3\n'
    drafted = draft_whole(parse_job('[[garment]]\ngarment = "tote"\nname = "bag"\nquantity = 2\n' + shape))
    assert [(one.label, one.quantity) for one in drafted.members] == [("bag", 2), ("shapes", 1)]
    assert drafted.pieces["shapes: patch"].cut == 3
    without = PieceSet("all", tuple(piece for piece in drafted.pieces if piece.name != "shapes: patch"))
    with pytest.raises(CheckError, match="'shapes: patch' is asked for 3 times, and was put together 0 times"):
        require_all_joined(drafted.members, without)


def test_a_client_without_a_number(tmp_path: Path) -> None:
    """A quantity that is text is named by file, line and column."""
    (tmp_path / "pupils.csv").write_text("name,quantity\nCleo,two\nDan,1\n", encoding="utf-8")
    text = '[[garment]]\ngarment = "tote"\nclients = "pupils.csv"\n'
    (note, *_) = draft_whole(parse_job(text, "job.toml", tmp_path)).pieces.notes
    assert note.startswith("left out: pupils.csv, line 2 (Cleo), column 'quantity': 'two' is not a number of garments")


@pytest.mark.parametrize(("style", "panels"), [("", 4), ('cloth_width = "60 in"', 2), ('panels = "3"', 3)])
def test_panels_for_the_narrowest_cloth(style: str, panels: int) -> None:
    """By hand: 2 × 56 in round; of 36 in less selvedges and seams 34 in are 4 panels, of 60 in less seams 2."""
    body = "body = { waist = '55 in', hip = '57 in' }"
    cloths = '[[fabric]]\nname = "wide"\nwidth = "60 in"\n[[fabric]]\nwidth = "36 in"\nselvedge = "1/2 in"\n'
    lining = '[[fabric]]\nname = "thin"\nwidth = "20 in"\nmaterial = "lining"\n'
    skirt = f'garment = "gathered-skirt"\n{body}\nstyle = {{ {style} }}\n'
    for text in (skirt, f"[[garment]]\n{skirt}"):
        drafted = draft_whole(parse_job(text + cloths + lining)).pieces
        assert sum(piece.cut for piece in drafted if "tier" in piece.name) == panels
        assert not any("cloth_width" in note for note in drafted.notes)
