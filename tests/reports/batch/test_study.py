"""Many markers: the same however they are laid, kept from run to run, checked before they are believed."""

from __future__ import annotations

import json
import multiprocessing
import os
import time
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting.cloth.fabric import Fabric
from nesting.marker.opinion import check
from nesting.problem.item import Item
from nesting.problem.lay import lay_pieces
from nesting.search.stop import Interrupted
from pieces.length import mm
from reports.batch.cache import MarkerCache
from reports.batch.study import study
from reports.errors import StudyError
from reports.keep.digest import key_of
from reports.plan.effort import Effort
from tests.make.cloth import back, front, tab

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem

TWILL = Fabric("twill", mm(700.0), mm(10.0))
FEW = Effort(0.01)


def cases(number: int = 3) -> list[Problem]:
    """A back, two fronts and some tabs, more of them each time."""
    return [lay_pieces([back(), front(), tab(2 * n)], TWILL, "open") for n in range(1, number + 1)]


def places(marker: Marker | None) -> object:
    """Where everything lies, to the last bit."""
    assert marker is not None
    return marker.placements, marker.length


@pytest.fixture
def no_search(monkeypatch: pytest.MonkeyPatch) -> Callable[..., Any]:
    """Return a switch that makes any search from then on an error."""

    def switch() -> None:
        def refuse(*_: object, **__: object) -> None:
            raise AssertionError("searched for what was kept")

        monkeypatch.setattr("reports.batch.study.solve", refuse)

    return switch


def test_workers_change_nothing() -> None:
    """Laid one by one or side by side in processes, the markers are the same bit for bit; no process is left."""
    alone, together = study(cases(), FEW), study(cases(), FEW, workers=2)
    assert [places(m) for m in alone.markers] == [places(m) for m in together.markers]
    assert multiprocessing.active_children() == []


def test_rerun_is_immediate(tmp_path: Path, no_search: Callable[..., Any]) -> None:
    """What was laid is kept: a rerun searches for nothing, and gives the same markers, each checked."""
    first = study(cases(), FEW, cache=MarkerCache(tmp_path))
    no_search()
    again = study(cases(), FEW, cache=MarkerCache(tmp_path))
    assert (first.kept, again.kept) == (0, 3)
    assert [places(m) for m in again.markers] == [places(m) for m in first.markers]


def test_equal_problems_are_laid_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The same problem twice is searched for once, and both get the marker; each is counted as done."""
    from nesting.search.solver import solve

    searched, done = [], []

    def counted(*asked: Any, **how: Any) -> Any:
        searched.append(1)
        return solve(*asked, **how)

    monkeypatch.setattr("reports.batch.study.solve", counted)
    twins = [*cases(1), *cases(1)]
    found = study(twins, FEW, on_done=lambda: done.append(1))
    assert (len(searched), len(done)) == (1, 2)
    assert places(found.markers[0]) == places(found.markers[1])
    assert found.markers[1] is not None
    assert found.markers[1].problem is twins[1]


@pytest.mark.parametrize(
    "damage",
    [
        lambda text: text[: len(text) // 2],
        lambda text: "",
        lambda text: "[" * 100_000,
        lambda text: "null",
        lambda text: text.replace("placements", "places"),
        lambda text: text.replace("0.0", "0.5", 1),
        lambda text: '{"sum": "", "marker": {"placements": [[0, 0, 0, NaN, 0]]}}',
    ],
    ids=["cut short", "empty", "deep", "null", "other key", "moved", "not a number"],
)
def test_damaged_entry_is_laid_anew(tmp_path: Path, damage: Callable[..., Any]) -> None:
    """A file of the cache that is damaged in any way is replaced, and the marker is what it was."""
    cache = MarkerCache(tmp_path)
    first = study(cases(1), FEW, cache=cache)
    (file,) = tmp_path.iterdir()
    whole = file.read_text()
    file.write_text(damage(whole))
    assert file.read_text() != whole
    again = study(cases(1), FEW, cache=cache)
    assert again.kept == 0
    assert places(again.markers[0]) == places(first.markers[0])
    assert file.read_text() == whole


def test_false_entry_does_not_pass(tmp_path: Path) -> None:
    """An entry whose sum is right but whose pieces overlap is found out by the independent check."""
    (problem,) = cases(1)
    cache, key = MarkerCache(tmp_path), key_of(problem)
    (marker,) = study([problem], FEW).markers
    assert marker is not None
    heap = replace(marker, placements=tuple(replace(p, x=0.0, y=10.0) for p in marker.placements))
    cache.write(key, heap)
    assert json.loads(cache.path(key).read_text())["sum"]
    assert cache.read(key, problem) is None
    cache.write(key, marker)
    kept = cache.read(key, problem)
    assert kept is not None
    check(kept)


def test_key_tells_problems_apart() -> None:
    """Whatever the search looks at changes the key; names do not."""
    (problem,) = cases(1)
    first, *rest = problem.items
    moved = first.variants[0].outline.copy()
    moved[0, 0] = np.nextafter(moved[0, 0], 1.0)
    other = [
        replace(problem, gap=1.0),
        replace(problem, items=(replace(first, quantity=2), *rest)),
        replace(problem, items=(replace(first, variants=first.variants[:1]), *rest)),
        replace(problem, items=(replace(first, variants=(replace(first.variants[0], outline=moved),)), *rest)),
        replace(problem, bands=(replace(problem.bands[0], high=689.5),)),
        replace(problem, faults=(moved,)),
    ]
    keys = [key_of(p, *FEW.parts) for p in (problem, *other)]
    keys += [
        key_of(problem, *effort.parts) for effort in (Effort(0.02), Effort(0.01, seed=1), Effort(0.01, seconds=3.0))
    ]
    assert len(set(keys)) == len(keys)
    renamed = replace(problem, name="velvet", items=tuple(Item(f"a {i.name}", *_rest(i)) for i in problem.items))
    assert key_of(renamed, *FEW.parts) == keys[0]


def _rest(item: Item) -> tuple[Any, ...]:
    return item.quantity, item.variants, item.yields, item.piece


def test_interrupted_and_resumed(tmp_path: Path) -> None:
    """An interrupt keeps what is done; the next run lays only the rest, and all is as if there had been none."""
    asked, cache = Interrupted(), MarkerCache(tmp_path)
    cut = study(cases(4), FEW, cache=cache, interrupt=asked, on_done=asked.set)
    done = sum(marker is not None for marker in cut.markers)
    assert 1 <= done < 4
    assert multiprocessing.active_children() == []
    rest = study(cases(4), FEW, cache=cache)
    assert rest.kept == done
    assert [places(m) for m in rest.markers] == [places(m) for m in study(cases(4), FEW).markers]


def test_interrupt_before_the_first() -> None:
    """Asked to stop before it begins, a study lays nothing."""
    asked = Interrupted()
    asked.set()
    assert study(cases(2), FEW, interrupt=asked).markers == [None, None]


def test_killed_worker_is_told_in_one_line(tmp_path: Path) -> None:
    """A worker that is killed ends the study with an error that says what to do; what was done is kept."""
    cache = MarkerCache(tmp_path)

    def kill() -> None:
        for child in multiprocessing.active_children():
            child.kill()

    with pytest.raises(StudyError, match="run the command again"):
        study(cases(6), Effort(0.1), workers=2, cache=cache, on_done=kill)
    end = time.monotonic() + 30
    while multiprocessing.active_children() and time.monotonic() < end:
        time.sleep(0.05)
    assert multiprocessing.active_children() == []
    assert study(cases(6), Effort(0.1), cache=cache).kept >= 1


def test_unusable_cache_is_no_hindrance(tmp_path: Path) -> None:
    """Where the cache's folder is a file, everything is laid and nothing kept."""
    place = tmp_path / "file"
    place.write_text("")
    assert [m is None for m in study(cases(1), FEW, cache=MarkerCache(place)).markers] == [False]
    assert place.read_text() == ""


def test_cache_of_user(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The cache is where the XDG base directory specification puts it; a relative path is left aside, as it says."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert MarkerCache.of_user().folder == tmp_path / "ellwand"
    monkeypatch.setenv("XDG_CACHE_HOME", "here")
    monkeypatch.setenv("HOME", "/home/someone")
    assert MarkerCache.of_user().folder == Path("/home/someone/.cache/ellwand")


def test_old_markers_go(tmp_path: Path) -> None:
    """Beyond the number kept, those written longest ago are dropped; other files are left alone."""
    cache = MarkerCache(tmp_path)
    for i in range(6):
        cache.path(str(i)).write_text("{}")
        os.utime(cache.path(str(i)), (i, i))
    (tmp_path / "notes.txt").write_text("mine")
    cache.prune(6)
    assert len(list(tmp_path.iterdir())) == 7
    cache.prune(4)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["marker-4.json", "marker-5.json", "notes.txt"]
    MarkerCache(tmp_path / "none").prune()
