"""Pieces that a file lists: each outline and line is what a person says it is, as far as the form allows."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest

from pieces.exchange.imported import ReadingChoices
from pieces.exchange.listing import listing
from pieces.exchange.own.plain import from_plain, to_plain
from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.read.reader import import_pieces
from pieces.exchange.sketch import listed

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.imported import Imported

BACK = [[0, 0], [300, 0], [300, 200], [0, 200]]
SEAM = [[10, 10], [290, 10], [290, 190], [10, 190]]
FAR = [[400, 0], [500, 0], [500, 90]]


def read(folder: Path, pieces: dict[str, Any], told: dict[str, Any], **asked: Any) -> Imported:
    """Outlines out of JSON, with what is decided of them."""
    (folder / "a.json").write_text(json.dumps({"unit": "mm", "pieces": pieces}))
    return import_pieces(folder / "a.json", ReadingChoices(**asked), sidecar_of(told, "told"))


@pytest.mark.parametrize("role", ["sew line", "inner line", "cutout", "grain", "notch", "drill point"])
def test_an_outline_is_a_line_of_another(tmp_path: Path, role: str) -> None:
    """The second outline is said to be a line of the first, and is; the account has who said so."""
    found = read(tmp_path, {"back": BACK, "seam": SEAM, "tab": FAR}, {"line": [{"numbers": [2], "role": role}]})
    entry = found.report.account.entries[1]
    assert (entry.place, entry.of, entry.sure, entry.reason) == (role, "back", "told", listed.LISTED)
    assert [piece.name for piece in found.pieces] == ["back", "tab"]
    back = found.pieces["back"]
    kinds = {"sew line": ["sew"], "inner line": ["line"], "cutout": ["cutout"]}
    assert [line.kind for line in back.inner] == kinds.get(role, [])
    assert (len(back.notches), len(back.drill_points)) == (int(role == "notch"), int(role == "drill point"))
    shown = listing(found, ReadingChoices())["outlines"][1]
    assert (shown["role"], shown["sure"], "piece" in shown["roles"]) == (role, "told", True)


def test_what_cannot_be_is_told(tmp_path: Path) -> None:
    """In no other piece it stays a piece; that it lies in two is told, and what is said of a piece that is a line."""
    line = [{"numbers": [3], "role": "cutout"}]
    found = read(tmp_path, {"back": BACK, "seam": SEAM, "tab": FAR}, {"line": line})
    assert len(found.pieces) == 3
    assert any("'tab' is not taken as cutout: it lies in no other piece" in said for said in found.report.guesses)
    both = {"back": BACK, "front": [[-5, 5], [310, 5], [310, 195], [-5, 195]], "pocket": [[50, 50], [90, 50], [90, 90]]}
    told = {"line": [{"numbers": [3], "role": "inner line"}], "piece": [{"line": 3, "name": "x", "cut": 2}]}
    found = read(tmp_path, both, told)
    assert any("lies in 'back' as well" in said or "lies in 'front' as well" in said for said in found.report.guesses)
    assert any("line 3 is not a cut line" in said for said in found.report.guesses)


def test_a_frame_and_all_that_is_cut_of_it(tmp_path: Path) -> None:
    """A piece that is cut of two materials is left out with both; what is said to be a frame is one."""
    pieces = {"back cut 2 shell cut 1 lining": BACK, "tab": FAR, "sheet": [[0, 0], [900, 0], [900, 900], [0, 900]]}
    assert len(read(tmp_path, pieces, {}).pieces) == 4
    told = {"line": [{"numbers": [1], "role": "left out"}, {"numbers": [3], "role": "frame"}]}
    found = read(tmp_path, pieces, told)
    assert [piece.name for piece in found.pieces] == ["tab"]
    assert [entry.place for entry in found.report.account.entries] == ["left out", "piece", "frame"]


def test_facts_of_a_listed_piece(tmp_path: Path) -> None:
    """Name, count, fold, grain and material by the number of the outline; what was read is shown beside it."""
    facts = {"line": 1, "name": "rear", "cut": 4, "pair": True, "material": "lining", "grain_line": [[0, 0], [0, 200]]}
    found = read(tmp_path, {"back cut 2": BACK}, {"piece": [facts]})
    (piece,) = found.pieces
    assert (piece.name, piece.cut, piece.mirrored_pair, piece.material) == ("rear", 4, True, "lining")
    assert round(piece.length) == 200
    (shown,) = listing(found, ReadingChoices())["pieces"]
    assert shown["read"] == {"name": "back", "cut": 2, "pair": False, "material": "shell"}
    folded = read(tmp_path, {"back": BACK}, {"piece": [{"line": 1, "fold_line": [[0, 0], [300, 0]]}]})
    assert folded.pieces["back"].on_fold


def test_lines_within_our_own_pieces(tmp_path: Path) -> None:
    """Of our own JSON a line within becomes a piece, a notch a hole; seam allowances stay where only these change."""
    square = {"unit": "mm", "pieces": {"back": BACK}}
    (tmp_path / "plain.json").write_text(json.dumps(square))
    (tmp_path / "plain.pieces.toml").write_text("")
    told = sidecar_of({"piece": [{"in_file": "back", "allowance": "10 mm"}]}, "told")
    data = to_plain(import_pieces(tmp_path / "plain.json", sidecar=told).pieces)
    data["pieces"][0]["inner"] = [{"kind": "line", "points": [[50, 50], [90, 50], [90, 90], [50, 50]]}]
    data["pieces"][0]["notches"] = [{"name": "n", "point": [150.0, 0.0]}]
    from_plain(data)
    (tmp_path / "own.json").write_text(json.dumps(data))
    roles = {2: "drill point", 3: "piece"}
    told = sidecar_of({"line": [{"numbers": [n], "role": role} for n, role in roles.items()]}, "told")
    found = import_pieces(tmp_path / "own.json", sidecar=told)
    back = found.pieces["back"]
    assert [entry.place for entry in found.report.account.entries] == ["piece", "drill point", "piece"]
    assert (len(found.pieces), len(back.notches), len(back.drill_points), back.inner) == (2, 0, 1, ())
    assert back.edges[0].allowance == 10
    grain = sidecar_of({"line": [{"numbers": [3], "role": "grain"}]}, "told")
    found = import_pieces(tmp_path / "own.json", sidecar=grain)
    assert any("seam allowances are not kept" in said for said in found.report.guesses)


def test_what_the_file_leaves_out(tmp_path: Path) -> None:
    """Measured points say that a piece is left out; said to be a piece, it is one."""
    (tmp_path / "a.toml").write_text('units = "mm"\n[[piece]]\nname = "a"\nleave_out = true\n'
                                     'points = """\n0,0\n200,0\n0,90\n"""\n[[piece]]\nname = "b"\n'
                                     'points = """\n0,0\n200,0\n0,90\n"""\n')  # fmt: skip
    assert [piece.name for piece in import_pieces(tmp_path / "a.toml").pieces] == ["b"]
    told = sidecar_of({"line": [{"numbers": [1], "role": "piece"}]}, "told")
    found = import_pieces(tmp_path / "a.toml", sidecar=told)
    assert [piece.name for piece in found.pieces] == ["a", "b"]
    assert any("you said that it is a piece" in said for said in found.report.remarks)


def test_geographic_lines_are_a_drawing(tmp_path: Path) -> None:
    """Of GeoJSON each line can be said to be anything, once: no decision is counted twice."""
    rings = [[*BACK, BACK[0]], [*SEAM, SEAM[0]]]
    shapes = [{"type": "Feature", "geometry": {"type": "LineString", "coordinates": ring}} for ring in rings]
    (tmp_path / "a.geojson").write_text(json.dumps({"type": "FeatureCollection", "features": shapes}))
    told = sidecar_of({"line": [{"numbers": [2], "role": "cutout"}]}, "told")
    found = import_pieces(tmp_path / "a.geojson", ReadingChoices(units="mm"), told)
    assert [entry.place for entry in found.report.account.entries] == ["piece", "cutout"]
    shown = listing(found, ReadingChoices())
    assert (shown["is_drawing"], len(shown["outlines"][0]["roles"])) == (True, 10)


def test_a_fold_that_is_no_edge_of_two_materials(tmp_path: Path) -> None:
    """A line across the middle of a piece cut of two materials, said to be its fold: told, and a line on both."""
    pieces = {"back cut 2 shell cut 1 lining": BACK, "fold": [[0, 100], [300, 100], [300, 101]]}
    found = read(tmp_path, pieces, {"line": [{"numbers": [2], "role": "fold"}]})
    assert [(piece.material, len(piece.inner)) for piece in found.pieces] == [("shell", 1), ("lining", 1)]
    assert any("not one of its edges" in said for said in found.report.guesses)
