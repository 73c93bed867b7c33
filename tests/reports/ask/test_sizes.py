"""Sizes of a chart: graded from the job's own body, or read from a table."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.ask.sizes import GRADE, ONE_SIZE, graded_sizes, read_sizes
from reports.errors import JobError
from reports.page.answers.fields import job_of
from tests.make.model import MODEL, edited

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

JOB = parse_job(MODEL)
INCH = 25.4


@pytest.fixture
def table(tmp_path: Path) -> Callable[..., Any]:
    """Write a table of sizes; its path."""

    def write(text: str) -> Path:
        path = tmp_path / "sizes.csv"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_eight_sizes() -> None:
    """Eight sizes, evenly 1 1/2 in of bust apart, the job's own among them unchanged."""
    sizes = graded_sizes(JOB)
    busts = [size.job.measured().bust / INCH for size in sizes]
    assert busts == pytest.approx([37.5, 39, 40.5, 42, 43.5, 45, 46.5, 48])
    (own,) = [size for size in sizes if size.is_own]
    assert own.job.measured() == JOB.measured()
    assert [size.name for size in sizes][:2] == ["37 1/2 in", "39 in"]


def test_grade() -> None:
    """Each measurement that the job gives changes by its grade; one that it does not give is not made up."""
    small, large = (graded_sizes(JOB)[i].job.measured().measurements() for i in (0, 7))
    assert set(small) == set(JOB.measured().measurements())
    for name in small:
        assert (large[name] - small[name]) / 7 == pytest.approx(GRADE[name])
    # EN 13402-3 (its bust sizes as given on the help page of the statistics package Anthropometry) goes by 4 cm.
    assert GRADE["bust"] == pytest.approx(40.0, abs=2.0)


def test_children_grade_less() -> None:
    """Children's sizes are two thirds as far apart."""
    changes = (
        ('bust = "42 in"', 'wearer = "children"\nbust = "28 in"'),
        ('hip = "48 in"', 'hip = "29 in"'),
        ('across_shoulder = "17 in"', 'across_shoulder = "12 in"'),
        ('neck = "15 in"', 'neck = "12 in"'),
        ('upper_arm = "16 in"', 'upper_arm = "9 in"'),
        ('wrist = "8 1/2 in"', 'wrist = "6 in"'),
        ('armhole_depth = "10 1/2 in"', 'armhole_depth = "7 in"'),
    )
    sizes = graded_sizes(parse_job(edited(*changes)))
    assert sizes[1].job.measured().bust - sizes[0].job.measured().bust == pytest.approx(INCH)


def test_table(table: Callable[..., Any]) -> None:
    """A table gives what varies, a finished length among it; an empty cell and what has no column is the job's."""
    path = table('size, bust, hip, length\n10, 36 in, 38 1/2 in, 28 in\n"12, tall", "37 1/2 in", , 30 in\n\n')
    ten, twelve = read_sizes(path, JOB)
    assert (ten.name, twelve.name) == ("10", "12, tall")
    assert (ten.job.measured().bust, ten.job.measured().hip) == pytest.approx((36 * INCH, 38.5 * INCH))
    assert ten.job.styled().length == pytest.approx(28 * INCH)
    assert twelve.job.measured().hip == JOB.measured().hip
    assert ten.job.measured().neck == JOB.measured().neck


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "holds no sizes"),
        ("size,bust\n", "holds no sizes"),
        ("bust\n36 in", "column 'size' is missing"),
        ("size,bst\n10,36 in", "did you mean 'bust'?"),
        ("size,bust,bust\n10,36 in,37 in", "'bust' appears twice"),
        ("size,bust\n10,36", "size '10': .*has no unit"),
        ("size,bust\n10,36 in,37 in", "3 cells under 2 headings"),
        ("size,bust\n10,400 in", "size '10': .*not plausible for women"),
        ("size,bust\n10,36 in\n10,37 in", "two sizes are called '10'"),
        ("size,bust\n,36 in", "has 1 to 20 characters"),
        ("size,length\n10,0 in", "size '10': length must be more than 0"),
        ("size,bust\n" + "\n".join(f"{n},36 in" for n in range(41)), "41 sizes"),
    ],
)
def test_bad_table(table: Callable[..., Any], text: str, said: str) -> None:
    """A table that makes no sense is told in one line that names the file and what to do."""
    path = table(text)
    with pytest.raises(JobError, match=said) as error:
        read_sizes(path, JOB)
    assert str(path) in str(error.value)
    assert "\n" not in str(error.value)


def test_no_table(tmp_path: Path) -> None:
    """A file that is not there, a folder, or no text is told as such."""
    with pytest.raises(JobError, match="no such file"):
        read_sizes(tmp_path / "none.csv", JOB)
    with pytest.raises(JobError, match="cannot read"):
        read_sizes(tmp_path, JOB)
    (tmp_path / "bytes.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(JobError, match="not a table in UTF-8"):
        read_sizes(tmp_path / "bytes.csv", JOB)


def test_built_in_table() -> None:
    """A table that gives all the garment needs is taken alone: its wearer, and no armhole depth of the job."""
    sizes = read_sizes("men-letters", JOB)
    assert [size.name for size in sizes] == ["S", "M", "L", "XL", "XXL"]
    bodies = [size.job.measured() for size in sizes]
    assert {(body.wearer, body.armhole_depth) for body in bodies} == {("men", None)}
    assert [body.bust for body in bodies] == [900, 980, 1060, 1140, 1240]
    assert sizes[0].job.styled() == JOB.styled()


def test_a_garment_without_a_body() -> None:
    """A job of it needs no [body], and the page finds no fault in it; it has one size."""
    job = parse_job('garment = "tote"\n[style]\nwidth = "12 in"\n')
    assert draft_job(job).measures["finished_width"] == pytest.approx(12 * INCH)
    assert job_of({"garment": "tote"}).measured() == job.measured()
    assert [size.name for size in graded_sizes(job)] == [ONE_SIZE]
