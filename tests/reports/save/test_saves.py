"""Which changes save cloth; what each one takes is laid for real."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from pieces import Piece, PieceError
from pieces.piece.divide import divide
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.batch.study import study
from reports.plan.effort import Effort
from reports.save.saves import NOW, savings, savings_to_plain
from reports.save.words import savings_lines
from tests.make.model import MODEL
from tests.make.outlines import sides

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from tests.reports.conftest import Ran

TABS = MODEL.replace("[style]", '[style]\ntab_width = "2 in"', 1)


@pytest.fixture(scope="module")
def found() -> Any:
    """The model job's changes on its first cloth, with little effort."""
    job = parse_job(TABS)
    return savings(job, 1, lambda problems: study(problems, Effort(0.02, proof=0.0)).markers)


def test_the_job_as_it_is_comes_first_and_the_rest_by_what_it_saves(found: Any) -> None:
    """The first row is the job itself; then come markers laid, best first, and then what will not do."""
    now, *changed = found.rows
    assert now.name == NOW and now.saved == 0 and now.marker
    saved = [row.saved for row in changed if row.marker]
    assert saved == sorted(saved, reverse=True)
    assert all(row.marker is None for row in changed[len(saved) :])


def test_each_change_that_is_asked_for_is_tried(found: Any) -> None:
    """Length, ease, centre back, facing, sleeve, spread, tabs and tilt are all there."""
    names = " ".join(row.name for row in found.rows)
    for word in ("shorter", "less ease", "centre back", "facing", "sleeve in two", "layer", "tabs", "tilt"):
        assert word in names


def test_savings_are_differences_of_cloth(found: Any) -> None:
    """What is saved is the base's length of cloth less the change's, by hand from the markers."""
    now, *changed = found.rows
    for row in changed:
        if row.marker:
            cloth = row.marker.length * row.marker.problem.lengths
            assert row.saved == pytest.approx(now.marker.length * now.marker.problem.lengths - cloth)


def test_a_shorter_jacket_is_an_inch_shorter(found: Any) -> None:
    """Under "1 in shorter" the back is 25.4 mm shorter than it was, and no other piece is longer."""
    job, rows = found.job, found.rows
    changed = next(row for row in rows if row.name.endswith("shorter"))
    lengths = {item.piece.name: item.piece.length for item in changed.marker.problem.items}
    before = {piece.name: piece.length for piece in draft_job(job).of("shell")}
    assert before["back"] - lengths["back"] == pytest.approx(25.4, abs=0.01)
    assert all(lengths[name] <= before[name] + 1e-6 for name in lengths)


def test_words_and_json_agree(found: Any) -> None:
    """The JSON holds every row; the words name the best saving, or say that there is none."""
    rows = found.rows
    plain = savings_to_plain(found)
    assert [one["change"] for one in plain["changes"]] == [row.name for row in rows]
    words = list(savings_lines(found))
    best = max(rows[1:], key=lambda row: (round(row.less), row.saved))
    assert words[0].startswith(best.name[0].upper()) or words[0] == "No change tried saves cloth."


def test_a_purchase_saved_is_what_is_bought_less(found: Any) -> None:
    """By hand from what each row buys."""
    now, *changed = found.rows
    for row in changed:
        if row.marker:
            assert row.less == pytest.approx(now.purchase.buy - row.purchase.buy)


def test_scatter_is_measured_with_the_effort_spent() -> None:
    """The job as it is, laid 3 m and 5 m longer from two other seeds, differs by 5 m; else nothing is known."""
    job = parse_job(TABS)
    seeds = {1: 3000.0, 2: 5000.0}

    def later(seed: int) -> Callable[[Sequence[Problem]], Sequence[Marker | None]]:
        return lambda problems: [_later(one, seeds[seed]) for one in study(problems, Effort(0)).markers]

    found = savings(job, 1, lambda problems: study(problems, Effort(0)).markers, again=later)
    assert found.scatter == pytest.approx(5000.0, abs=100.0)
    assert savings_to_plain(found)["scatter_mm"] == found.scatter
    assert savings(job, 1, lambda problems: study(problems, Effort(0)).markers).scatter is None


def _later(marker: Marker | None, by: float = 3000) -> Marker:
    """A marker laid 3 m further on, or so many mm."""
    assert marker is not None
    moved = tuple(replace(place, x=place.x + by) for place in marker.placements)
    return replace(marker, placements=moved, length=marker.length + by)


def _lay_changes_badly(problems: Sequence[Problem]) -> Sequence[Marker | None]:
    first, *more = study(problems, Effort(0)).markers
    return [first, *map(_later, more)]


def test_smaller_pieces_never_cost_cloth() -> None:
    """Every change laid 3 m further on: smaller pieces still lie where those of the job as it is lie, or nearer."""
    found = savings(parse_job(TABS), 1, _lay_changes_badly)
    shorter = next(row for row in found.rows if row.name.endswith("shorter"))
    assert shorter.marker and shorter.outcome == "laid" and shorter.saved >= 0
    seam = next(row for row in found.rows if row.name.startswith("centre back"))
    assert seam.marker and seam.saved < 0
    tilt = next(row for row in found.rows if row.name.startswith("tilt"))
    assert tilt.marker and tilt.saved == pytest.approx(0.0), "the layout of the job as it is holds under a tilt"


def test_of_smaller_pieces_that_take_more_nothing_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the search found too little, and the layout of the job as it is does not hold, there is no figure."""
    monkeypatch.setattr("reports.save.saves.carry", lambda *_: None)
    found = savings(parse_job(TABS), 1, _lay_changes_badly)
    shorter = next(row for row in found.rows if row.name.endswith("shorter"))
    assert (shorter.marker, shorter.cost, shorter.outcome) == (None, None, "not found shorter")
    plain = next(row for row in savings_to_plain(found)["changes"] if row["change"] == shorter.name)
    assert plain["saved_mm"] is None and plain["outcome"] == "not found shorter"


def test_a_search_cut_short_is_told() -> None:
    """Changes that an interrupt came before are counted as not searched, and the picture lists them."""
    found = savings(
        parse_job(TABS), 1, lambda problems: [*study(problems[:2], Effort(0)).markers, *[None] * 99][: len(problems)]
    )
    assert found.cut_short and savings_to_plain(found)["cut_short"] is True
    assert any(row.outcome == "not searched" for row in found.rows)
    assert any(line.startswith("Cut short") for line in savings_lines(found))


def test_a_sleeve_in_two_parts_takes_two_more_allowances() -> None:
    """A 200 by 100 oblong divided at 40 with a seam of 10: parts 50 and 70 wide, 200 x 20 more cloth, by hand."""
    oblong = Piece("sleeve", sides([(0, 0), (200, 0), (200, 100), (0, 100)], [0.0] * 4), cut=2, mirrored_pair=True)
    lower, upper = divide(oblong, 40.0, 10.0)
    assert (lower.width, upper.width) == (50.0, 70.0)
    assert lower.cut == 2 and lower.mirrored_pair
    areas = [shapely.Polygon(part.cut_line).area for part in (lower, upper)]
    assert sum(areas) == pytest.approx(200 * 100 + 200 * 20)


def test_a_seam_beside_the_piece_is_refused() -> None:
    """A seam that misses the piece divides nothing."""
    oblong = Piece("sleeve", sides([(0, 0), (200, 0), (200, 100), (0, 100)], [0.0] * 4))
    with pytest.raises(PieceError, match=r"does not cross .sleeve. exactly once"):
        divide(oblong, 140.0, 10.0)


def test_command_writes_what_it_says(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """With --json one object on stdout; with --out a picture and the figures, none of them overwritten."""
    job = job_file(MODEL)
    ran = run("saves", job, "--effort", 0, "--workers", 1, "--no-cache", "--json", "--out", "s")
    assert ran.code == 0 and json.loads(ran.out)["changes"]
    assert {path.name for path in (job.parent / "s").iterdir()} == {f"saves.{e}" for e in ("json", "svg", "png", "pdf")}
    again = run("saves", job, "--effort", 0, "--out", "s")
    assert again.code == 2 and "already exists" in again.err and again.err.count("\n") == 1


def test_no_such_cloth(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """A cloth that the job does not offer is a mistake in one line."""
    ran = run("saves", job_file(MODEL), "--fabric", 9)
    assert ran.code == 2 and "there is no number 9" in ran.err
