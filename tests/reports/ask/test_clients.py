"""Measured clients: a row for each person; bad rows are named, good ones kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from reports.ask.clients import Clients, read_clients
from reports.ask.job import parse_job
from reports.errors import JobError
from tests.make.model import MODEL

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

JOB = parse_job(MODEL)
HEAD = "name;quantity;colour;bust (cm);hip (cm);across shoulder (cm);neck;upper arm;wrist;closure;cuff_share;length"
GOOD = "94,5;102;40;34 cm;29,5 cm;18 cm"


@pytest.fixture
def read(tmp_path: Path) -> Callable[..., Any]:
    """Read rows below the usual headings."""

    def rows(*lines: str, head: str = HEAD, encoding: str = "utf-8") -> Clients:
        path = tmp_path / "clients.csv"
        path.write_text("\n".join((head, *lines)) + "\n", encoding=encoding)
        return read_clients(path, JOB)

    return rows


def test_each_to_own_measurements(read: Callable[..., Any]) -> None:
    """Each client's garment is drafted to the row's measurements and style; what a row leaves out is as in the job."""
    found = read(f"Ann;2;rust;{GOOD};zip;0,8;66 cm", "Zoë;;;104;110;42;36 cm;33 cm;19 cm;;;", encoding="cp1252")
    ann, zoe = found.good
    assert (found.bad, ann.name, ann.quantity, ann.colour, zoe.name, zoe.quantity) == ((), "Ann", 2, "rust", "Zoë", 1)
    assert ann.body.bust == pytest.approx(945)
    assert ann.style == {"closure": "zip", "cuff_share": 0.8, "length": "660.0 mm"}
    assert ann.job.styled().length == pytest.approx(660)
    assert (zoe.style, zoe.job.styled()) == ({}, JOB.styled())
    assert ann.pieces.measures["body_finished_length"] == pytest.approx(660)
    # The body's own armhole depth is another body's: it comes from the bust here (bust / 8 + 5 1/2 in, as documented).
    assert zoe.pieces.measures["armhole_depth"] == pytest.approx(1040 / 8 + 5.5 * 25.4)


def test_a_colour_of_those_there_are(tmp_path: Path) -> None:
    """In whatever case, and none need be named where there is but one; where none is known any will do."""
    path = tmp_path / "clients.csv"
    path.write_text(f"{HEAD}\nA;1;Rust;{GOOD};;;\nB;1;;{GOOD};;;\nC;1;teal;{GOOD};;;\n", encoding="utf-8")
    one, two, any_ = (read_clients(path, JOB, colours) for colours in (["rust"], ["rust", "navy"], []))
    assert [client.colour for client in one.good] == ["rust", "rust"]
    assert [client.colour for client in two.good] == ["rust"]
    assert [(bad.line, bad.column) for bad in two.bad] == [(3, "colour"), (4, "colour")]
    assert [client.colour for client in any_.good] == ["Rust", "", "teal"]


@pytest.mark.parametrize(
    ("row", "column", "reason"),
    [
        (f";1;;{GOOD};;;", "name", "write a name or a code"),
        (f"Ann;1;;{GOOD};;;", "name", "'Ann' is in line 2 already"),
        (f"B;0;;{GOOD};;;", "quantity", "'0' is not a number of garments"),
        (f"B;two;;{GOOD};;;", "quantity", "'two' is not a number of garments"),
        ("B;1;;945;102;40;34 cm;29 cm;18 cm;;;", "bust", "not plausible for women"),
        ("B;1;;94,5;;40;34 cm;29 cm;18 cm;;;", "hip", "is empty: measure it"),
        ("B;1;;1.020;102;40;34 cm;29 cm;18 cm;;;", "bust", "could mean thousands or decimals"),
        ("B;1;;92 in;102;40;34 cm;29 cm;18 cm;;;", "bust", "its heading says cm: check the unit"),
        ("B;1;;190;102;40;34 cm;29 cm;18 cm;;;", "bust", "is unusual for women"),
        ("B;1;;94,5;102;40;34;29 cm;18 cm;;;", "neck", "has no unit"),
        (f"B;1;;{GOOD};velcro;;", "closure", "'velcro' is not one of buttons, zip, none"),
        (f"B;1;;{GOOD};;half;", "cuff_share", "'half' is not a share"),
        (f"B;1;;{GOOD};;;0 in", "length", "length must be more than 0"),
        ("B;1;;94,5", "", "4 cells under 12 headings"),
        ("B;1;;94,5;102;22;62 cm;29 cm;18 cm;;;", "", "neck is wider than the shoulder"),
    ],
)
def test_bad_row_loses_no_other(read: Callable[..., Any], row: str, column: str, reason: str) -> None:
    """A row that cannot be used is told with its line, name and column; those before and after it are kept."""
    found = read(f"Ann;1;;{GOOD};;;", row, f"Last;1;;{GOOD};;;")
    assert [client.name for client in found.good] == ["Ann", "Last"]
    (bad,) = found.bad
    assert (bad.line, bad.column) == (3, column)
    assert reason in bad.reason
    who = " (B)" if row.startswith("B;") and row.count(";") == HEAD.count(";") else ""
    assert str(bad).startswith(f"clients.csv, line 3{who}" + (f", column '{column}': " if column else ": "))
    assert "\n" not in str(bad)


@pytest.mark.parametrize(
    ("head", "rows", "said"),
    [
        (HEAD, (), "holds no clients"),
        (HEAD.replace("bust", "bst"), ("x",), "did you mean 'bust'?"),
        (HEAD.replace("name;", "wearer;"), ("x",), "a column 'name' is missing"),
        ("name,bust", ("x,1",), "columns 'hip', 'across_shoulder', .* are missing"),
    ],
)
def test_bad_table(read: Callable[..., Any], head: str, rows: tuple[Any, ...], said: str) -> None:
    """A file whose headings make no sense is told at once."""
    with pytest.raises(JobError, match=said):
        read(*rows, head=head)


def test_a_correction_too_large_names_its_column(tmp_path: Path) -> None:
    """What is wrong in one row is told of that row and column, and the others are made."""
    path = tmp_path / "clients.csv"
    path.write_text(
        "name,bust (in),hip (in),across_shoulder (in),neck (in),upper_arm (in),wrist (in),back_rounder (in)\n"
        "Ada,38,40,16,15,12,7,0.5\nBea,38,40,16,15,12,7,9\n",
        encoding="utf-8",
    )
    found = read_clients(path, parse_job(MODEL))
    assert [client.name for client in found.good] == ["Ada"]
    assert "back_rounder" in str(found.bad[0]) and "too large" in str(found.bad[0])
