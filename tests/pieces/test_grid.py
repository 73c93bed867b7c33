"""Tables out of spreadsheets: encodings, separators, decimal commas, units in headings."""

from __future__ import annotations

from itertools import product
from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError, LengthError
from pieces.grid import CellRow, Heading, read_grid, read_length, with_point

if TYPE_CHECKING:
    from pathlib import Path

ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252")


def read(path: Path, data: bytes) -> tuple[tuple[Heading, ...], tuple[CellRow, ...]]:
    """The grid in a file of these bytes."""
    path.write_bytes(data)
    grid = read_grid(path, "clients", "name, bust")
    return grid.headings, grid.rows


@pytest.mark.parametrize(("encoding", "separator"), [*product(ENCODINGS, ",;\t")])
def test_as_spreadsheets_write(tmp_path: Path, encoding: str, separator: str) -> None:
    """The same table in any encoding and with any separator is read the same; line numbers are those of the file."""
    lines = ["name|Upper arm (cm)|bust", "", "Zoë|30.5|½ m", '"two\nlines"|31|90 cm||']
    mark = b"\xff\xfe" if encoding == "utf-16-le" else b""
    data = mark + "\r\n".join(lines).replace("|", separator).encode(encoding)
    headings, rows = read(tmp_path / "clients.csv", data)
    assert headings == (("name", ""), ("upper_arm", "cm"), ("bust", ""))
    assert rows == ((3, ("Zoë", "30.5", "½ m")), (4, ("two\nlines", "31", "90 cm")))


@pytest.mark.parametrize(
    ("heading", "name", "unit"),
    [
        ("bust", "bust", ""),
        ("Bust (in)", "bust", "in"),
        ("arm-length [mm]", "arm_length", "mm"),
        ("across  shoulder cm", "across_shoulder", "cm"),
        ("hip (close)", "hip_(close)", ""),
        ('wrist (")', "wrist", '"'),
        ("cm", "cm", ""),
    ],
)
def test_headings(tmp_path: Path, heading: str, name: str, unit: str) -> None:
    """A heading's last word is a unit only if it is one."""
    (found,), _ = read(tmp_path / "t.tsv", f"{heading}\n1\n".encode())
    assert found == (name, unit)


@pytest.mark.parametrize(
    ("cell", "unit", "mm"),
    [
        ("86,5", "cm", 865),
        ("86,5 cm", "", 865),
        ("0,914 m", "", 914),
        ("34 1/2", "in", 876.3),
        ("34½", '"', 876.3),
        ("34 in", "cm", 863.6),
        ("1 yd 4 in", "cm", 1016),
        ("1.200,5", "mm", 1200.5),
        ("1,200.5 mm", "", 1200.5),
    ],
)
def test_lengths(cell: str, unit: str, mm: float) -> None:
    """A cell's own unit goes before its heading's, and a decimal comma is a point (an inch: 25.4 mm, 1959)."""
    assert read_length(cell, unit) == pytest.approx(mm)


@pytest.mark.parametrize("cell", ["1,234", "86", "1.234,5", "86,5,1", "86,5 ells", "-3", ""])
def test_no_clear_length(cell: str) -> None:
    """What could mean two things, or nothing, is refused: thousands or decimals, no unit, two commas."""
    with pytest.raises(LengthError):
        read_length(cell, "mm" if cell == "1,234" else "")


@pytest.mark.parametrize("cell", ["1.200", "1.200 mm", "-12.500"])
def test_a_point_among_decimal_commas(tmp_path: Path, cell: str) -> None:
    """In a table with decimal commas 1.200 may be 1200 or 1.2: it is refused by its line, and so is no bust of 0 cm."""
    with pytest.raises(FormatError, match=r"line 3: .*its point could mean thousands"):
        read(tmp_path / "clients.csv", f"name;bust (mm)\nA;865,5 mm\nB;{cell}\n".encode())
    read(tmp_path / "clients.csv", f"name;bust (mm)\nA;865.5\nB;{cell}\n".encode())


def test_point() -> None:
    """A plain number with a comma gets a point; one with three digits after it may be thousands."""
    assert (with_point("0,875"), with_point("0.75"), with_point("12,5")) == ("0.875", "0.75", "12.5")
    with pytest.raises(LengthError, match="thousands or decimals"):
        with_point("12,500")


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"", 'holds no clients: write a heading line "name, bust"'),
        (b"\n \n,,\n", "holds no clients"),
        (b"name,bust\n", "holds no clients"),
        (b"name,bust (cm),Bust\nA,1,2\n", "'bust' appears twice"),
        (b"\xff\xfe\x00", "not a table in UTF-8, UTF-16 or Windows-1252"),
        (b"\x89PNG\r\n\x1a\n\x00", "not a table in UTF-8"),
        (b"n\x00a\x00m\x00e\x00", "not a table in UTF-8"),
        (b"name\n" + b"x" * 1_000_001, "larger than 1 MB"),
        (b'name\n"' + b"x" * 200_000 + b'"', "line 2: field larger"),
    ],
)
def test_no_table(tmp_path: Path, data: bytes, said: str) -> None:
    """What is no table is told in one line that names the file."""
    with pytest.raises(FormatError, match=said) as error:
        read(tmp_path / "clients.csv", data)
    assert str(tmp_path / "clients.csv") in str(error.value)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize(
    ("head", "known", "wanted"),
    [
        ("Größe;Brustumfang (cm);Hüftumfang in cm", ("size", "bust", "hip"), ("size", "bust", "hip")),
        ("Taille;Tour de poitrine (cm);Hanches", ("size", "bust", "hip"), ("size", "bust", "hip")),
        ("Kundin;Anzahl;Oberarm", ("name", "quantity", "upper_arm"), ("name", "quantity", "upper_arm")),
        ("Größe;Taille;Hüfte", ("size", "waist", "hip"), ("size", "taille", "hip")),
    ],
)
def test_headings_in_other_languages(
    tmp_path: Path, head: str, known: tuple[str, ...], wanted: tuple[str, ...]
) -> None:
    """Headings in German and French are understood by the language that knows most of them."""
    path = tmp_path / "t.csv"
    path.write_text(head + "\n1;2;3\n", encoding="utf-8")
    assert tuple(heading.name for heading in read_grid(path, "sizes", "size", known).headings) == wanted


def test_translations_are_of_columns_that_there_are() -> None:
    """Every heading that can be translated to is one of a table of clients, of sizes or of outlines."""
    from pieces.body.body import measurement_names
    from pieces.exchange.read.outlines import COLUMNS
    from pieces.grid import _languages

    own = {"name", "quantity", "colour", "wearer", "size", *measurement_names(), *COLUMNS}
    assert all(set(words) <= own for words in _languages().values())
