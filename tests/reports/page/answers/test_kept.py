"""Answers made again from what was kept, however cloth lies; markers changed by hand; files as the commands write."""

from __future__ import annotations

import copy
import json
import tomllib
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
from pytest import MonkeyPatch

from nesting.errors import NestingError
from nesting.folds.fold_then_open import fold_then_open, opened_in
from nesting.marker.opinion import check
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from reports.ask.job import parse_job
from reports.ask.wanted import asked_of
from reports.buy.files import planned_files, write_plan
from reports.buy.kept import kept_of
from reports.buy.question import ALL
from reports.buy.shown import plan_shown
from reports.errors import MissingError, StateError
from reports.export.files import write_marker
from reports.page.answers.fields import job_of
from reports.page.answers.kept import kept_of_payload, moved, with_layout
from reports.page.errors import LayoutError
from reports.page.search import Search
from reports.page.searches import laying, work
from reports.page.searches.files import Answered, download, downloads, laid_again
from reports.page.server.routes_searches import as_shown_now
from reports.page.store.backup import backup
from reports.page.store.restore import restore
from reports.page.store.store import Store
from reports.page.work_folder import BEFORE, FOLDER, markers_of
from reports.plan.effort import Effort
from reports.plan.plan import plan_job
from reports.widths.widths import curve_to_plain
from tests.make.model import MODEL, RIB, with_fabrics

if TYPE_CHECKING:
    from pathlib import Path

    from nesting.marker.marker import Marker

CLOTHS = {
    "open": 'width = "60 in"\nspread = "open"\ngap = "3 mm"\nprice = "14 / yd"',
    "best": 'width = "66 in"\nspread = "best"',
    "double": 'width = "104 in"\nspread = "double-folded"\nselvedge = "1/2 in"',
    "part": 'width = "64 in"\nspread = "part-folded"',
    "stretches": 'width = "50 in"\nspread = "fold-then-open"',
    "crosswise": 'width = "60 in"\nspread = "crosswise"\nwaste_twins = true',
    "checks": 'width = "60 in"\nspread = "open"\nrepeat_along = "4 in"\nrepeat_across = "3 in"',
    "faults": 'width = "60 in"\nspread = "open"\nfaults = [["10 in", "10 in", "3 in", "3 in"]]',
    "shrinks": 'width = "60 in"\nspread = "folded"\nshrinkage = 4\nwashed = "after"',
}


PROVED = Effort(0.02)
"""As much as proves a bound that no first layout has; it takes some seconds."""


def quick(monkeypatch: MonkeyPatch, text: str) -> Any:
    """Payload and result of a search by first layouts alone."""
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    payload = {"job": tomllib.loads(text), "effort": "quick", "options": {}}
    return payload, json.loads(json.dumps(work.run_task("buy", payload, lambda told: None, lambda: False)))


@pytest.mark.parametrize("cloth", CLOTHS)
def test_made_again_the_same(monkeypatch: MonkeyPatch, cloth: str) -> None:
    """What is made again from a result shows the same, to the last digit; and its pieces can be moved by hand."""
    payload, result = quick(monkeypatch, with_fabrics(CLOTHS[cloth], 'name = "tape"\nwidth = "9 in"'))
    kept = kept_of_payload(payload)
    assert plan_shown(kept.plan(result)) == result
    marker = kept.marker(result, 0)
    for number, place in enumerate(marker.placements):
        there = moved(marker, number, place.x, place.y)
        assert there["legal"], there["why"]
        # Outlines of stretches are drawn as coarsely as the widest of them allows: a thousandth of its width.
        off = 1e-3 * marker.problem.width if marker.problem.stretches else 0.01
        assert (there["x"], there["y"]) == pytest.approx((place.x, place.y), abs=off)


@pytest.fixture
def answer(
    monkeypatch: MonkeyPatch,
) -> Any:
    """The model job on two cloths, the second with a price, and its rib."""
    return quick(monkeypatch, with_fabrics('width = "60 in"', CLOTHS["open"], rib=RIB))


def test_moved_where_it_may_not_lie(answer: tuple[dict[str, Any], dict[str, Any]]) -> None:
    """Put in the middle of another, a piece stays there, is not legal, and says what it lies over."""
    payload, result = answer
    marker = kept_of_payload(payload).marker(result, 0)
    first, second = list(marker.outlines())[:2]
    there = moved(marker, 1, first[0].x + 150, first[0].y + 100)
    assert not there["legal"]
    assert there["why"].startswith(f"'{second[1].name}' lies over '{first[1].name}'")
    off = moved(marker, 1, second[0].x, -400)
    assert not off["legal"]
    assert "reaches beyond the cloth" in off["why"]
    with pytest.raises(MissingError, match="counted from 0"):
        moved(marker, 99, 0, 0)
    with pytest.raises(NestingError, match="cannot be turned"):
        moved(marker, 1, 0, 0, 45)


def test_laid_by_hand(
    answer: Any,
) -> None:
    """A piece moved behind all others makes the marker longer: length, purchase and cost follow; all is checked."""
    payload, result = answer
    kept = kept_of_payload(payload)
    before = kept.plan(result)
    marker = kept.marker(result, 1)
    places = [(p.x, p.y, None) for p in marker.placements]
    places[-1] = (marker.length + 300, places[-1][1], None)
    after = plan_shown(with_layout(before, 1, places))
    fabric, old = after["plan"]["fabrics"][1], result["plan"]["fabrics"][1]
    assert fabric["marker_mm"] == pytest.approx(marker.length + 300 + marker_length(marker, -1))
    assert fabric["buy_mm"] > old["buy_mm"]
    assert fabric["cost"] == pytest.approx(14 * fabric["buy_mm"] / 914.4, abs=0.005)
    assert fabric["stopped_by"] == "hand"
    assert fabric["proof"]["bound_mm"] == old["proof"]["bound_mm"]
    assert after["plan"]["fabrics"][0] == result["plan"]["fabrics"][0]
    check(kept.marker(after, 1))
    assert plan_shown(kept.plan(after)) == after


def marker_length(marker: Marker, number: int) -> float:
    """How long one of its pieces is along the cloth."""
    place = marker.placements[number]
    return marker.problem.items[place.item].variants[place.variant].length


def test_laid_wrong_by_hand(answer: tuple[dict[str, Any], dict[str, Any]]) -> None:
    """All pieces on one another, or one too few, make no marker."""
    payload, result = answer
    plan = kept_of_payload(payload).plan(result)
    count = len(plan.markers[0][1].result.marker.placements)
    with pytest.raises(LayoutError, match=r"overlap|lies"):
        with_layout(plan, 0, [(0.0, 0.0, None)] * count)
    with pytest.raises(NestingError, match="places were given"):
        with_layout(plan, 0, [(0.0, 0.0, None)] * (count - 1))


def test_a_result_tampered_with(answer: tuple[dict[str, Any], dict[str, Any]]) -> None:
    """A result whose placements overlap, or name no piece, is not believed."""
    payload, result = answer
    for change in ([0, 0, 0, 0.0, 0.0], [99, 0, 0, 0.0, 0.0], [0, 0, 99, 0.0, 0.0], ["x"]):
        wrong = copy.deepcopy(result)
        wrong["markers"][0]["placed"][-1] = change
        with pytest.raises(StateError, match="search again"):
            kept_of_payload(payload).marker(wrong, 0)
        with pytest.raises(StateError, match="search again"):
            kept_of_payload(payload).plan(wrong)


def test_files_are_those_of_the_command(
    answer: tuple[dict[str, Any], dict[str, Any]],
    tmp_path: Path,
    monkeypatch: MonkeyPatch,
) -> None:
    """Words, outlines and table are those of the plan that the commands make, byte for byte; all files are named."""
    payload, result = answer
    monkeypatch.setattr("reports.draw.kit.files.PICTURES", ("svg",))
    job = job_of(payload["job"])
    plan = plan_job(job, Effort(0))
    answered = Answered.of("buy", payload, result)
    listed = {one["name"]: one for one in downloads(answered)}
    assert len(listed) == len(downloads(answered))
    assert {path.name for path in planned_files(job, tmp_path, ALL)} <= set(listed)
    written = write_plan(plan, tmp_path, ["answer"])[1:]
    written += [tmp_path / "marker-2.dxf", tmp_path / "marker-2.csv"]
    write_marker(dict(plan.markers)[2], written[1:])
    written += write_plan(plan, tmp_path, ["rib"])[:1]
    for path in written:
        assert download(answered, path.name) == (path.read_bytes(), listed[path.name]["type"])
    with pytest.raises(MissingError, match="no file"):
        download(answered, "../buy.json")


def test_files_of_many(monkeypatch: MonkeyPatch, tmp_path: Path) -> None:
    """A curve is made again of the markers that are kept, the same; once those are gone, it says so."""
    monkeypatch.setattr(laying, "cores", lambda: 1)
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    options = {"from": "58 in", "to": "60 in", "step": "2 in", "spread": "open"}
    payload = {"job": tomllib.loads(MODEL), "effort": "quick", "options": options}
    result = work.run_task("widths", payload, lambda told: None, lambda: False)
    again = curve_to_plain(laid_again(work.task_of("widths", payload), result, markers_of(payload)))
    besides = {key: result[key] for key in ("words", "markers")}
    assert again | besides == result
    answered = Answered.of("widths", payload, result)
    assert json.loads(download(answered, "widths.json")[0]) | besides == result
    assert download(answered, "widths.txt")[0].decode().splitlines() == result["words"]
    for path in (tmp_path / "ellwand").iterdir():
        path.unlink()
    with pytest.raises(StateError, match="search again"):
        download(answered, "widths.svg")
    with pytest.raises(StateError, match="no result yet"):
        Answered.of("widths", payload, None)


def test_files_after_a_restore(monkeypatch: MonkeyPatch, tmp_path: Path) -> None:
    """The files of a curve are those they were in another folder, on a machine that has laid none of its markers."""
    monkeypatch.setattr(laying, "cores", lambda: 1)
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "here"))
    asked = {"job": tomllib.loads(MODEL), "effort": "quick", "options": {"from": "58 in", "to": "58 in"}}
    here, there = Store(tmp_path / "work"), Store(tmp_path / "other")
    search = Search("a" * 32, "widths", asked | {FOLDER: str(here.folder)})
    search.turn("done", work.run_task("widths", search.payload, lambda told: None, lambda: False))
    here.keep_search(search.kept())
    before = download(Answered.of("widths", search.payload, search.result), "widths.svg")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "nowhere"))
    restore(there, backup(here))
    found = there.search(search.id)
    assert FOLDER not in found["payload"]
    payload = found["payload"] | {FOLDER: str(there.folder)}
    assert download(Answered.of("widths", payload, found["result"]), "widths.svg") == before
    here.close()
    there.close()


def test_answers_of_the_version_before(answer: tuple[dict[str, Any], dict[str, Any]]) -> None:
    """An answer kept before it bore its proof as data is shown with it, and with the best and the other ways."""
    payload, now = answer
    old = copy.deepcopy(now)
    old["plan"]["schema"] = 1
    del old["plan"]["best"], old["best_words"]
    for fabric in old["plan"]["fabrics"]:
        proof = fabric.pop("proof")
        fabric |= {"bound_mm": proof["bound_mm"], "bound_held": proof["held"], "passed_over": fabric.pop("other_ways")}
    for marker in old["markers"]:
        del marker["said"]
    assert as_shown_now("buy", payload, old) == as_shown_now("buy", payload, now) == now


def test_pieces_that_lie_opened_are_kept() -> None:
    """A marker is made again with the pieces opened out that it has, whichever would be chosen for its cloth."""
    job = parse_job(with_fabrics(CLOTHS["stretches"]))
    ((_, fabric),) = plan_job(job, Effort(0), rib=False).markers
    pieces, cloth = fabric.asked.sets[0][0], fabric.offer.fabric()
    chosen = opened_in(fold_then_open(pieces, cloth))
    assert chosen
    names = (*(piece.name for piece in reversed(pieces) if piece.name not in chosen[:1]),)[:2]
    result = solve(fold_then_open(pieces, cloth, opened=(*chosen[:1], *names)), MaxIterations(0))
    plan = plan_job(job, Effort(0), rib=False)
    asked = asked_of(fabric.offer, "fold-then-open", pieces, 1)
    other = replace(plan, fabrics=(replace(fabric, spread="fold-then-open", result=result, asked=asked),))
    shown = json.loads(json.dumps(plan_shown(other)))
    assert shown["markers"][0]["opened"] == [*chosen[:1], *names]
    ((_, again),) = kept_of(job).plan(shown).markers
    assert again.result.marker.placements == result.marker.placements


def rank(plan: dict[str, Any]) -> dict[str, tuple[float, float, dict[str, float]]]:
    """What must never get worse: marker, bound and cloth bought of each cloth, and what each other way takes."""
    found = {}
    for fabric in plan["fabrics"]:
        if "refused" in fabric:
            continue
        ways = {way["spread"]: way["mm"] for way in fabric["other_ways"] if way.get("mm")}
        ways[fabric["spread"]] = fabric["marker_mm"] * fabric["lengths_of_cloth"]
        found[fabric["name"]] = fabric["marker_mm"] * fabric["lengths_of_cloth"], fabric["buy_mm"], ways
    return found


@pytest.mark.parametrize("cloth", CLOTHS)
def test_looked_on(monkeypatch: MonkeyPatch, cloth: str) -> None:
    """To look on, with less effort than before and even if stopped at once, makes no marker longer and no bound lower.

    What is bettered was searched for; what betters it may lay first layouts alone, which by themselves are longer.
    """
    monkeypatch.setitem(
        work.EFFORTS, "good", PROVED if cloth in ("open", "best", "shrinks") else Effort(0.01, proof=1.0)
    )
    monkeypatch.setitem(work.EFFORTS, "quick", Effort(0))
    asked = {"job": tomllib.loads(with_fabrics(CLOTHS[cloth])), "options": {}}
    before = work.run_task("buy", asked | {"effort": "good"}, lambda told: None, lambda: False)
    for is_stopped in (True, False):
        again = asked | {"effort": "quick", BEFORE: before}
        told = work.run_task("buy", again, lambda told: None, lambda stopped=is_stopped: stopped)  # type: ignore[misc]
        require_no_worse(before, told)
        assert kept_of_payload(asked).plan(json.loads(json.dumps(told))).markers


def require_no_worse(before: dict[str, Any], told: dict[str, Any]) -> None:
    """Make sure that nothing of an answer is worse than in the one before."""
    old, new = rank(before["plan"]), rank(told["plan"])
    for name, (length, buy, ways) in old.items():
        assert new[name][0] <= length + 1e-6
        assert new[name][1] <= buy
        assert all(new[name][2][spread] <= mm + 1e-6 for spread, mm in ways.items())
    for one, other in zip(before["plan"]["fabrics"], told["plan"]["fabrics"], strict=True):
        if other["spread"] == one["spread"]:
            assert other["proof"]["bound_mm"] >= one["proof"]["bound_mm"]
            assert other["proof"]["held"] == one["proof"]["held"]


def test_a_proof_stays(monkeypatch: pytest.MonkeyPatch) -> None:
    """What was proved the shortest stays so, with the argument that proved it, however the next search goes."""
    payload, result = quick(monkeypatch, with_fabrics('width = "60 in"\nspread = "folded"'))
    (fabric,) = result["plan"]["fabrics"]
    fabric["proof"] |= {"bound_mm": fabric["marker_mm"], "held": "as an earlier search proved"}
    told = work.run_task("buy", payload | {BEFORE: result}, lambda told: None, lambda: False)
    (after,) = told["plan"]["fabrics"]
    assert after["proof"]["proved"]
    assert after["proof"]["held"] == "as an earlier search proved"
    assert told["markers"][0]["placed"] == result["markers"][0]["placed"]
