"""Pieces out of CSV and JSON, and points measured with a ruler."""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pieces.errors import FormatError
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.mend.arc import arc_by_height, height_of
from pieces.exchange.own.plain import to_plain
from pieces.exchange.own.sidecar import read_sidecar, sidecar_of, write_sidecar
from pieces.exchange.read.reader import import_pieces
from tests.make.drawings import area, corners, read

if TYPE_CHECKING:
    from pathlib import Path

    from pieces import PieceSet

POCKET = """
units = "in"
[[piece]]
name = "pocket"
cut = 2
pair = true
points = '''
0, 0
6, 0
6, 7 1/2   # the side
0, 7 1/2   {curve}
'''
"""


def write(path: Path, text: str) -> Path:
    """A file with this text."""
    path.write_text(text, encoding="utf-8")
    return path


@given(st.floats(5, 500), st.floats(0.1, 6.0), st.floats(0.05, 0.95), st.booleans())
def test_arc_through_a_point(radius: float, swept: float, at: float, back: bool) -> None:
    """The arc through three points of a circle stays on that circle, whichever way it runs."""
    swept = -swept if back else swept

    def on(t: float) -> tuple[float, float]:
        return 7 + radius * math.cos(t), -3 + radius * math.sin(t)

    height = height_of(on(0), on(swept * at), on(swept))
    assert height == pytest.approx(math.copysign(radius * (1 - math.cos(swept / 2)), swept), abs=1e-5 * radius)
    for x, y in arc_by_height(on(0), on(swept), height).tolist():
        assert math.hypot(x - 7, y + 3) == pytest.approx(radius, rel=1e-5)


@pytest.mark.parametrize(
    ("curve", "wanted"),
    [
        ("", 45.0),
        ("bulge 3", 45 + math.pi * 9 / 2),
        ("bulge -3", 45 - math.pi * 9 / 2),
        ("by 3, 10 1/2", 45 + math.pi * 9 / 2),
        ("by 3, 7.5", 45.0),
    ],
)
def test_measured_points(tmp_path: Path, curve: str, wanted: float) -> None:
    """A pocket of 6 by 7 1/2 in; a bulge of half its width adds half a disc outwards, or takes it as a hollow."""
    (piece,) = read(write(tmp_path / "a.toml", POCKET.format(curve=curve))).pieces
    assert area(piece) == pytest.approx(wanted * 25.4**2, rel=1e-3)
    assert (piece.cut, piece.mirrored_pair) == (2, True)


def test_measured_on_the_sew_line(tmp_path: Path) -> None:
    """An allowance is added all round, and none on a fold."""
    text = POCKET.format(curve="").replace("pair = true", 'pair = false\nallowance = "1/2"\nfold = "left"')
    (piece,) = read(write(tmp_path / "a.toml", text)).pieces
    assert piece.on_fold and area(piece) == pytest.approx(7 * 8 * 25.4**2)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("6, 7 1/2", "6 7", "cannot read the point '6 7'"),
        ("6, 7 1/2", "6, 7 1/0", "fraction"),
        ('units = "in"', 'units = "ell"', "'ell' is not one of mm, cm, m, in, ft, yd, px"),
        ('units = "in"', "", "set units"),
        ("cut = 2", "cut = 3", "half of 3"),
        ("cut = 2", "cuts = 2", "did you mean 'cut'"),
        ("pair = true", "pair = 1", "write true or false"),
        ("points", "corners", "unknown key"),
        ("[[piece]]", "[piece]", r"\[\[piece\]\]"),
    ],
)
def test_measured_wrong(tmp_path: Path, old: str, new: str, said: str) -> None:
    """A slip in typing is told in one line, with the place."""
    with pytest.raises(FormatError, match=said):
        read(write(tmp_path / "a.toml", POCKET.format(curve="").replace(old, new)))


@pytest.mark.parametrize(
    ("text", "asked", "wanted"),
    [
        ("piece,x (mm),y (mm)\na,0,0\na,100,0\na,100,50\na,0,50\n", None, 5000),
        ("piece;x_cm;y_cm\na;0;0\na;10;0\na;10;5\n", None, 2500),
        ("x,piece,y,note\n0,a,0,\n10,a,0,\n10,a,5,z\n", "in", 25 * 25.4**2),
        ("piece,x,y\na,0 in,0 in\na,10 in,0 in\na,10 in,5 1/2 in\n", None, 27.5 * 25.4**2),
        ("piece,x mm,y mm,bulge\na,0,0,50\na,100,0,50\n", None, math.pi * 2500),
        ("piece,x mm,y mm,mid x,mid y\na,0,0,50,50\na,100,0,50,-50\n", None, math.pi * 2500),
    ],
)
def test_csv(tmp_path: Path, text: str, asked: str | None, wanted: float) -> None:
    """Points a row in any order of columns, the unit in the head, in each cell, or asked; curves by bulge or point."""
    (piece,) = read(write(tmp_path / "a.csv", text), units=asked).pieces
    assert area(piece) == pytest.approx(wanted, rel=2e-3)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("piece,x,y\na,0,0\n", "line 2: x"),
        ("piece,x mm\na,0\n", "lacks the column 'y'"),
        ("piece,x mm,y in\na,0,0\n", "several units"),
        ("piece,x mm,y mm\na,0,oops\n", "line 2: y"),
        ("piece,x mm,y mm\na,nan,0\n", "line 2: x"),
        ("piece,x mm,y mm\na,0,\n", "both x and y"),
        ("piece,x mm,y mm\n", "no piece"),
        ("piece,x mm,y mm\na,0,0\na,0,0\na,1e300,0\n", "no piece"),
    ],
)
def test_csv_wrong(tmp_path: Path, text: str, said: str) -> None:
    """What is wrong with a table is told with its line."""
    with pytest.raises(FormatError, match=said):
        read(write(tmp_path / "a.csv", text))


@pytest.mark.parametrize(
    "data",
    [
        {"unit": "mm", "pieces": {"a": [[0, 0], [100, 0], [100, 50]]}},
        {"unit": "cm", "pieces": [{"name": "a", "outline": [[0, 0], [10, 0], [10, 5], [0, 0]]}]},
        {"unit": "mm", "a": [[0, 0], [100, 0], [100, 0], [100, 50]]},
    ],
)
def test_plain_json(tmp_path: Path, data: object) -> None:
    """Plain lists of points, by name or with one, closed or not, a point doubled or not."""
    (piece,) = read(write(tmp_path / "a.json", json.dumps(data))).pieces
    assert area(piece) == pytest.approx(2500) and piece.name == "a" and len(corners(piece)) == 3


NAN = '{"unit":"mm","a":[[NaN,0],[1,1],[2,0]]}'


@pytest.mark.parametrize(
    "text",
    [
        "[",
        "[[[1]]]",
        "5",
        "{}",
        NAN,
        "[" * 90_000,
        '{"unit":"mm","a":[["x",0]]}',
        '{"schema":1}',
        '{"unit":"mm","a":"b"}',
    ],
)
def test_json_wrong(tmp_path: Path, text: str) -> None:
    """What is no JSON of pieces is refused, however deep."""
    with pytest.raises(FormatError):
        read(write(tmp_path / "a.json", text), units=None if "unit" in text else "mm")


def test_our_own_json(tmp_path: Path, jacket: PieceSet) -> None:
    """Our own JSON comes back with every edge and allowance."""
    found = read(write(tmp_path / "a.json", json.dumps(to_plain(jacket)))).pieces
    assert to_plain(found)["pieces"] == to_plain(jacket)["pieces"]


def test_small_file_beside(tmp_path: Path) -> None:
    """What is written beside the pieces is read again: names, material, count, fold, grain, allowance."""
    path = write(
        tmp_path / "a.csv",
        "piece,x mm,y mm\na,0,0\na,100,0\na,100,50\na,0,50\nb,0,0\nb,9,0\nb,9,90\nc,0,0\nc,9,0\nc,9,9\n",
    )
    first = read(path)
    text = write_sidecar(first, path.name, 0.0)
    beside = write(tmp_path / "a.pieces.toml", text)
    again = import_pieces(path, ReadingChoices(), read_sidecar(beside))
    assert to_plain(again.pieces) == to_plain(first.pieces)
    text = text.replace(
        'name = "a"\nmaterial = "shell"\ncut = 1', 'name = "yoke"\nfold = "right"\nmaterial = "lining"\ncut = 3'
    )
    text = text.replace('name = "b"', 'name = "b"\nallowance = "10 mm"').replace(
        'name = "c"', 'name = "c"\nleave_out = true'
    )
    text = text.replace("grain = 0.0", "grain = 90", 1)
    yoke, b = import_pieces(path, ReadingChoices(), read_sidecar(write(beside, text))).pieces
    assert (yoke.name, yoke.material, yoke.cut, yoke.on_fold) == ("yoke", "lining", 3, True)
    assert (yoke.length, yoke.width) == (pytest.approx(50), pytest.approx(200))
    assert area(b) > 9 * 90 / 2 + 10 * 180


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[[piece]]\nin_file = "z"\n', "no piece 'z'; it has a"),
        ('[[piece]]\nin_file = "a"\nmaterial = "wool"\n', "shell, rib"),
        ('[[piece]]\nin_file = "a"\ngrain = "x"\n', "write degrees"),
        ('[[piece]]\nin_file = "a"\nallowance = 10\n', "no unit"),
        ('[[piece]]\nin_file = "a"\nfold = "left"\n', "no straight edge"),
        ('[[pieces]]\nin_file = "a"\n', "did you mean 'piece'"),
        ('[[piece]]\nname = ""\nin_file = "a"\n', "write a name"),
        ("[[piece]\n", "not valid TOML"),
    ],
)
def test_small_file_wrong(tmp_path: Path, text: str, said: str) -> None:
    """A slip in the small file is told in one line."""
    path = write(tmp_path / "a.csv", "piece,x mm,y mm\na,0,0\na,100,20\na,50,90\n")
    with pytest.raises(FormatError, match=said):
        import_pieces(path, ReadingChoices(), read_sidecar(write(tmp_path / "a.pieces.toml", text)))


def test_rib(tmp_path: Path) -> None:
    """A rectangle cut of rib is a band that the plan of rib takes; what is none is taken as shell, and told."""
    path = write(tmp_path / "a.csv", "piece,x mm,y mm\na,5,5\na,105,5\na,105,505\na,5,505\nb,0,0\nb,90,0\nb,90,90\n")
    entry = '[[piece]]\nin_file = "{}"\nmaterial = "rib"\n'
    beside = write(tmp_path / "a.pieces.toml", entry.format("a") + entry.format("b"))
    found = import_pieces(path, ReadingChoices(), read_sidecar(beside))
    band, shell = found.pieces
    assert (band.length, band.width, band.material) == (100, 500, "rib") and band.edge("edge").length == 500
    assert shell.material == "shell" and any("rectangle" in remark for remark in found.report.remarks)


TABLES = {
    "semicolons and commas": (";", "utf-8", ("piece", "x (mm)", "y (mm)"), ","),
    "tabs": ("\t", "utf-8", ("piece", "x in mm", "y in mm"), "."),
    "UTF-16": ("\t", "utf-16", ("piece", "x [mm]", "y [mm]"), ","),
    "German": (";", "cp1252", ("Schnittteil", "X (mm)", "Y (mm)"), ","),
    "French": (";", "utf-8-sig", ("Pièce", "x (mm)", "y (mm)"), ","),
    "commas in quotes": (",", "utf-8", ("piece", "x mm", "y mm"), "."),
}


@pytest.mark.parametrize("how", TABLES.values(), ids=TABLES.keys())
def test_tables_as_spreadsheets_write_them(tmp_path: Path, how: tuple[str, str, tuple[str, ...], str]) -> None:
    """The same outline with any separator, decimal sign, encoding and language is read the same: 100.5 × 80.125 mm."""
    sign, encoding, head, point = how
    rows = [head, *(("Ärmel", x, y) for x, y in (("0", "0"), ("100.5", "0"), ("100.5", "80.125"), ("0", "80.125")))]
    text = "\r\n".join(sign.join(cell.replace(".", point) for cell in row) for row in rows)
    (tmp_path / "a.csv").write_bytes(text.encode(encoding))
    (piece,) = read(tmp_path / "a.csv").pieces
    assert area(piece) == pytest.approx(100.5 * 80.125) and piece.name == "Ärmel"


def test_commas_that_could_be_thousands(tmp_path: Path) -> None:
    """A comma before three digits is refused where nothing shows what it is, and so are cells without a heading."""
    with pytest.raises(FormatError, match="thousands or decimals"):
        read(write(tmp_path / "a.csv", "piece;x mm;y mm\na;0;0\na;1,234;0\na;1,234;2,345\n"))
    with pytest.raises(FormatError, match="line 3: 5 cells under 3 headings"):
        read(write(tmp_path / "b.csv", "piece,x mm,y mm\na,0,0\na,12,5,80,5\na,1,9\n"))


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("a.csv", "piece,x,y,quantity\na,0,0,2\na,90,0,2\na,90,80,2\n"),
        ("b.csv", "Teil;x;y;;Anzahl\na;0;0;;\na;90;0;;2\na;90;80;;\n"),
        ("a.json", '{"unit": "mm", "pieces": [{"name": "a", "quantity": 2, "points": [[0, 0], [90, 0], [90, 80]]}]}'),
        ("b.json", '{"unit": "mm", "quantity": 2, "pieces": {"a": [[0, 0], [90, 0], [90, 80]]}}'),
    ],
)
def test_columns_and_keys_that_are_not_read_are_said(tmp_path: Path, name: str, text: str) -> None:
    """A count in a table of outlines is not read: that is said by the name of its column, and no clean file."""
    path = write(tmp_path / name, text)
    (out,) = read(path, units="mm", grain=0).report.left_out
    assert out.what.endswith(("'quantity'", "'anzahl'")) and "small file" in out.why
    with pytest.raises(FormatError, match="it is not read"):
        read(path, units="mm", grain=0, strict=True)


def test_a_column_without_cells_is_clean(tmp_path: Path) -> None:
    """A heading over nothing says nothing."""
    path = write(tmp_path / "a.csv", "piece,x,y,note\na,0,0,\na,90,0,\na,90,80,\n")
    assert len(read(path, units="mm", grain=0, strict=True).pieces) == 1


CALLED = {
    "sleeve cut 2": ("sleeve", 2, False, "shell"),
    "panel cut 2 pair": ("panel", 4, True, "shell"),
    "pocket lining cut 2": ("pocket", 2, False, "lining"),
    "yoke cut 1 on fold": ("yoke", 1, False, "shell"),
    "back": ("back", 1, False, "shell"),
}
"""What a piece is called, and what the words say: its name, how often it is cut, whether a pair, and of what."""


@pytest.mark.parametrize("name", ["own.csv", "own.json", "own.toml"])
def test_words_in_names_of_tables(tmp_path: Path, name: str) -> None:
    """Names in tables say how a piece is cut as those of layers and objects do, and that it was read is listed."""
    square = [(0, 0), (100, 0), (100, 80), (0, 80)]
    if name.endswith("csv"):
        text = "piece,x,y\n" + "".join(f"{called},{x},{y}\n" for called in CALLED for x, y in square)
    elif name.endswith("json"):
        text = json.dumps({"unit": "mm", "pieces": dict.fromkeys(CALLED, square)})
    else:
        lines = "\n".join(f"{x}, {y}" for x, y in square)
        entries = (f"[[piece]]\nname = '{called}'\npoints = '''\n{lines}\n'''\n" for called in CALLED)
        text = 'units = "mm"\n' + "".join(entries)
    found = import_pieces(write(tmp_path / name, text), ReadingChoices(units="mm"))
    has_names = name.endswith("toml")  # where a name is a key of its own, it stays as it is
    for piece, (called, wanted) in zip(found.pieces, CALLED.items(), strict=True):
        assert (piece.name, piece.cut, piece.mirrored_pair, piece.material) == (
            called if has_names else wanted[0],
            *wanted[1:],
        )
        assert piece.on_fold == ("fold" in called)
    assert len([what for what in found.report.words if "cut" in what[2] or "fold" in what[2]]) == 4


SQUARE = [[0, 0], [100, 0], [100, 100]]


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({"unit": "mm", "units": "in", "a": SQUARE}, "says both unit mm and units in"),
        ({"units": "inch", "a": SQUARE}, "units is 'inch'"),
        ({"unit": "mm", "units": ["mm"], "pieces": {"a": SQUARE}}, "units is "),
        ({"unit": "mm", "a": [[True, 0], *SQUARE]}, "must be a list of points"),
        ({"unit": "mm", "a": [["1", 0], *SQUARE]}, "must be a list of points"),
        ({"unit": "mm", "pieces": [{"name": "a", "points": [[None, 0], *SQUARE]}]}, "must be a list of points"),
    ],
)
def test_what_is_no_outline(tmp_path: Path, data: Any, said: str) -> None:
    """Two units, one that is none, and points of what are no numbers are refused."""
    (tmp_path / "a.json").write_text(json.dumps(data))
    with pytest.raises(FormatError, match=said):
        import_pieces(tmp_path / "a.json", ReadingChoices())


def test_a_unit_that_is_said_twice_alike(tmp_path: Path) -> None:
    """It is one unit, and no piece of its own."""
    (tmp_path / "a.json").write_text(json.dumps({"unit": "cm", "units": "cm", "a": SQUARE}))
    found = import_pieces(tmp_path / "a.json", ReadingChoices())
    assert [round(piece.length) for piece in found.pieces] == [1000]


def test_what_a_listed_piece_is_said_to_be_and_rows_apart(tmp_path: Path) -> None:
    """What lies in no other piece stays one, and rows of a piece that do not stand together are asked about."""
    path = tmp_path / "a.csv"
    rows = ["a,0,0", "a,100,0", "a,100,100", "b,200,0", "b,290,0", "b,290,90", "a,0,100"]
    path.write_text("\n".join(["piece,x (mm),y (mm)", *rows]))
    told = sidecar_of({"line": [{"numbers": [2], "role": "grain"}]}, "told")
    guesses = import_pieces(path, ReadingChoices(), told).report.guesses
    assert any("the rows of 'a' do not stand together, see line 8" in said for said in guesses)
    assert any("'b' is not taken as grain: it lies in no other piece" in said for said in guesses)
