"""The command `widths`: the curve, where it steps, and the published table beside it."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from pieces import Units
from pieces.units import format_need
from reports.ask.job import parse_job
from reports.ask.offer import FabricOffer
from reports.batch.series import Series, cloth_of, width_range
from reports.batch.study import study
from reports.draw.kit.sheet import PAGE_WIDTH
from reports.plan.effort import Effort
from reports.widths.draw import curve_page
from reports.widths.widths import WidthCurve, curve_to_plain, plan_curve
from reports.widths.words import curve_lines, curve_table
from tests.make.cloth import back, front, tab
from tests.make.drawn import overlapping, texts
from tests.make.model import HEAD, MODEL

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from pieces.piece.piece import Piece
    from tests.reports.conftest import Ran

INCH = 25.4
QUICK = ("--effort", "0", "--workers", "1", "--no-cache")


def lay(problems: Sequence[Problem], effort: Effort) -> Sequence[Marker | None]:
    """Lay in this process, without a cache."""
    return study(problems, effort).markers


OPEN = MODEL.replace('spread = "folded"', 'spread = "open"')


@pytest.fixture(scope="module")
def model() -> WidthCurve:
    """First layouts of the model job, laid open on cloth from 44 to 51 in."""
    job = parse_job(OPEN)
    effort = Effort(0)
    planned = plan_curve(
        job, cloth_of(job), width_range("44 in", "51 in", "7 in", Units.INCHES), spread=None, effort=effort
    )
    planned.lay(lay)
    return planned


def test_the_curve_never_rises(model: WidthCurve) -> None:
    """On wider cloth no more length is needed: a marker of narrower cloth fits."""
    lengths = [cell.length for cell in model.cells]
    assert lengths == sorted(lengths, reverse=True)
    assert all(cell.bound <= cell.length for cell in model.cells)
    assert len(lengths) == 4


def test_table(model: WidthCurve) -> None:
    """A row for each width, all with the same keys, plain values alone; what is laid agrees with the curve."""
    rows = model.table()
    assert [(row["width_mm"], row["cloth_mm"]) for row in rows] == [(cell.width, cell.length) for cell in model.cells]
    assert {tuple(row) for row in rows} == {tuple(rows[0])}
    assert all(type(value) in (str, float) for row in rows for value in row.values())
    assert all(row["buy_mm"] >= row["cloth_mm"] >= row["bound_mm"] > 0 for row in rows)  # type: ignore[operator]


def test_table_of_what_is_refused() -> None:
    """A width on which nothing can be laid has its row, with the reason, among the others."""
    job = parse_job(OPEN)
    curve = plan_curve(job, cloth_of(job), [254.0, 1524.0], spread=None, effort=Effort(0))
    curve.lay(lay)
    first, *_, last = curve.table()
    assert (first["width_mm"], first["buy"], last["refused"]) == (254.0, "", "")
    assert first["refused"].startswith("'back' needs ") and first["cloth_mm"] != first["cloth_mm"]


def test_published_widths_are_laid_as_well(model: WidthCurve) -> None:
    """45 and 50 in are not among the widths asked for, and yet stand in the comparison with the table."""
    rows = {round(width / INCH): (least, mean, most, laid) for width, least, mean, most, laid in model.by_table()}
    lengths = {round(cell.width / INCH): cell.length for cell in model.cells}
    assert set(lengths) == {44, 45, 50, 51}
    assert set(rows) == {45, 50}
    assert rows[45] == pytest.approx((lengths[45],) * 4)
    # By hand from the table: 1 3/4 yd on 50 in against 2 1/8 yd on 45 in is its least share, 1 5/8 to 1 3/4 its most.
    assert rows[50][0] == pytest.approx(lengths[45] * 14 / 17)
    assert rows[50][2] == pytest.approx(lengths[45] * 13 / 14)
    assert rows[50][3] == lengths[50]


def times(piece: Piece, along: float, across: float) -> Piece:
    """A piece without allowances, larger by factors along and across."""
    return replace(piece, edges=tuple(replace(e, points=e.points * (along, across)) for e in piece.edges))


def large(
    units: str = "in", price: str | None = "14.00 / yd", widths: list[int] | range = range(36, 73, 3)
) -> WidthCurve:
    """A curve of pieces as large as a jacket's, but with few corners."""
    pieces = [times(back(), 2.5, 2.0), times(front(), 2.5, 2.0), times(tab(4), 3.0, 3.0)]
    given = {"name": "canvas", "width": "1 m", "spread": "open"} | ({"price": price} if price else {})
    cloth = FabricOffer.model_validate(given)
    job = parse_job(MODEL.replace('units = "in"', f'units = "{units}"'))
    made = WidthCurve(job, cloth, Series(pieces, cloth, [width * INCH for width in widths]), Effort(0))
    made.lay(lay)
    return made


def tabs(widths: list[float], cut: int = 4) -> WidthCurve:
    """A curve of tabs of 80 by 50 mm in a single layer, worked out by hand: selvedges of 10 mm."""
    cloth = FabricOffer.model_validate({"name": "tape", "width": "1 m", "selvedge": "1 cm", "spread": "open"})
    made = WidthCurve(
        parse_job(MODEL.replace('"in"  ', '"cm"  ')), cloth, Series([tab(cut)], cloth, widths), Effort(0.02)
    )
    made.lay(lay)
    return made


def test_steps_by_hand() -> None:
    """Four tabs: one abreast to 119 mm, two from 120 on, three from 170 on; the steps say so."""
    made = tabs([100.0, 119.0, 121.0, 165.0, 171.0, 215.0])
    assert [cell.length for cell in made.cells] == pytest.approx([320.0, 320.0, 160.0, 160.0, 160.0, 160.0])
    (step,) = made.steps
    assert (step.before.width, step.after.width, step.fall) == (119.0, 121.0, pytest.approx(160.0))
    ((spread, beside),) = step.causes
    assert (spread, beside.names) == ("open", ("tab", "tab"))
    assert beside.width == pytest.approx(120.0)
    text = "\n".join(curve_lines(made))
    assert "Step 1: 12 cm wide takes 16 cm less than 12 cm: 2 × tab fit beside one another from 12 cm." in text
    assert "  12 cm: 2 × tab fit beside one another, open, single layer" in text
    six = tabs([165.0, 171.0], cut=6)
    assert [b.names for step in six.steps for _, b in step.causes] == [("tab",) * 3]


def test_piece_that_starts_to_fit_at_all() -> None:
    """Below 70 mm of width no tab of 50 mm lies between selvedges of 10 mm: it is said from where on one does."""
    made = tabs([60.0, 80.0])
    text = "\n".join(curve_lines(made))
    assert "Nothing fits on cloth up to 6 cm wide" in text
    assert "7 cm: tab fits at all" in text
    assert [round(cell.width) for cell in made.cells] == [80]


def test_a_search_cut_short_is_told() -> None:
    """Two of three widths are not reached: data, words and picture say so; whole, none of them does."""
    cloth = FabricOffer.model_validate({"width": "1 m", "selvedge": "1 cm", "spread": "open"})
    made = WidthCurve(parse_job(MODEL), cloth, Series([tab(4)], cloth, [100.0, 121.0, 171.0]), Effort(0))
    made.lay(lambda problems, effort: [*lay(problems[:1], effort), None, None])
    assert curve_to_plain(made)["cut_short"] is True
    assert curve_to_plain(made)["not_searched_mm"] == [121.0, 171.0]
    assert any(line.startswith("Cut short: 2 of 3 widths were not searched") for line in curve_lines(made))
    assert not any("was laid for real" in words for words in texts(curve_page(made)))
    assert list(curve_table(made).columns[1].cells) == ["open", "not searched", "not searched"]
    assert [row["refused"] for row in made.table()] == ["", "not searched", "not searched"]
    whole = tabs([100.0, 121.0])
    assert curve_to_plain(whole)["cut_short"] is False
    assert not any("Cut short" in line for line in curve_lines(whole))
    assert any("was laid for real" in words for words in texts(curve_page(whole)))


def test_the_picture_rounds_as_the_table(model: WidthCurve) -> None:
    """The length laid on 50 in is written in the comparison as it is in the table."""
    (cell,) = (cell for cell in model.cells if round(cell.width / INCH) == 50)
    (line,) = (line for line in curve_lines(model) if line.startswith("  50 in: ") and "by the table" in line)
    assert f"{format_need(cell.length, Units.INCHES)} laid" in line


def test_washed_cloth_is_narrower() -> None:
    """Cloth that loses 10 % across before it is cut must be bought wider for the same pieces to fit."""
    cloth = FabricOffer.model_validate({"width": "1 m", "spread": "open", "shrinkage_across": 10.0})
    made = WidthCurve(parse_job(MODEL), cloth, Series([tab(4)], cloth, [90.0, 112.0]), Effort(0))
    made.lay(lay)
    assert [beside.width for _, beside in made.besides] == [pytest.approx(100 / 0.9)]


@pytest.mark.parametrize("units", ["in", "cm"])
@pytest.mark.parametrize("price", ["14.00 / yd", None])
def test_picture_is_legible(units: str, price: str | None) -> None:
    """No words stand on one another or leave the page, with costs and without; every step has its number."""
    made = large(units, price)
    figure = curve_page(made)
    assert overlapping(figure) == []
    assert figure.get_size_inches()[0] * 72 == pytest.approx(PAGE_WIDTH)
    written = texts(figure)
    assert made.steps
    assert len(made.by_table()) == 8
    assert all(str(number) in written for number in range(1, len(made.steps) + 1))
    assert any("Cost" in words for words in written) == (price is not None)


def test_one_width_is_drawn() -> None:
    """A curve of a single width is a point, with no step."""
    made = large(widths=[50])
    assert overlapping(curve_page(made)) == []
    assert made.steps == []


def test_json(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """`widths --json` prints one object: a line for each width, rising, its length falling, all in mm."""
    said = run("widths", job_file(OPEN), "--from", "44 in", "--to", "46 in", "--json", *QUICK)
    assert (said.code, said.err) == (0, "")
    answer = json.loads(said.out)
    assert [row["width_mm"] / INCH for row in answer["widths"]] == pytest.approx([44, 45, 46])
    assert all(row["checked"] and row["bound_mm"] <= row["marker_mm"] for row in answer["widths"])
    assert (answer["effort"], answer["seconds"]) == (0, None)
    assert "conversion chart" in answer["table"]["source"] and ".com" not in answer["table"]["source"]


def test_for_people(
    job_file: Callable[[str], Path], run: Callable[..., Ran], tmp_path: Path, monkeypatch: MonkeyPatch
) -> None:
    """`widths --out` says how long, where it steps and how the table compares, and writes its files once."""
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())
    options = (job_file(OPEN), "--from", "45 in", "--to", "60 in", "--step", "15 in", "--out", "w", *QUICK)
    said = run("widths", *options)
    assert said.code == 0
    assert re.search(r"^45 in +open +[\d /]+ in +[\d /]+ yd +\d+\.\d\d +\d+\.\d%", said.out, re.M)
    assert re.search(r"^Step 1: ", said.out, re.M)
    assert re.search(r"^  60 in: .* by the table .* laid: [+-]\d+%", said.out, re.M)
    assert {path.name for path in (tmp_path / "w").iterdir()} == {
        f"widths.{s}" for s in ("json", "txt", "svg", "png", "pdf")
    }
    again = run("widths", *options)
    assert (again.code, again.err.count("\n")) == (2, 1)
    assert "already exists" in again.err


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--from", "60 in", "--to", "45 in"), "--from 60 in is more than --to 45 in"),
        (("--from", "45"), "--from: "),
        (("--from", "10 in", "--to", "12 in"), "none of the widths will do, not even the widest"),
        (("--from", "1 in", "--to", "2 in", "--spread", "double-folded"), "none of the widths will do"),
    ],
)
def test_bad_input(
    job_file: Callable[[str], Path], run: Callable[..., Ran], options: tuple[Any, ...], said: str
) -> None:
    """A mistake is one line and exit code 2."""
    answer = run("widths", job_file(MODEL), *options, *QUICK)
    assert (answer.code, answer.out, answer.err.count("\n")) == (2, "", 1)
    assert said in answer.err


def test_job_without_cloth(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """A job that names no cloth is laid on a plain one, folded."""
    said = run("widths", job_file(HEAD), "--from", "60 in", "--to", "60 in", "--json", *QUICK)
    assert said.code == 0
    assert json.loads(said.out)["widths"][0]["spread"] == "folded"


def test_cache_is_the_users(
    job_file: Callable[[str], Path], run: Callable[..., Ran], tmp_path: Path, monkeypatch: MonkeyPatch
) -> None:
    """What was laid is kept in $XDG_CACHE_HOME/ellwand, unless --no-cache says not to."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    options = (job_file(MODEL), "--from", "60 in", "--to", "60 in", "--json", "--effort", "0", "--workers", "1")
    run("widths", *options, "--no-cache")
    assert not Path(tmp_path / "cache").exists()
    first = run("widths", *options)
    assert len(list((tmp_path / "cache" / "ellwand").iterdir())) == 1
    assert run("widths", *options).out == first.out
