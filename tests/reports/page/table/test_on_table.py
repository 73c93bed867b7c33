"""Lays of a run on the page's table: shown, moved, kept beside the run, and its files; and what is cut from."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely

from reports.errors import MissingError, StateError
from reports.page.answers.fields import order_of
from reports.page.errors import LayoutError
from reports.page.search import Search
from reports.page.searches import laying, work
from reports.page.searches.files import Answered, download, downloads
from reports.page.table.cutting import cutting
from reports.page.table.on_table import LaysOnTable, on_table
from reports.plan.effort import Effort
from reports.run.by_hand import GONE
from reports.run.lay_downloads import lay_downloads
from reports.run.lay_file import read_lays

if TYPE_CHECKING:
    from pathlib import Path

ORDER: dict[str, Any] = {
    "garment": "rib-jacket",
    "units": "in",
    "sizes": "women-letters",
    "quantity": {"rust": {"S": 2, "L": 2}},
    "fabric": [
        {"name": "canvas", "colour": "rust", "width": "60 in", "spread": "face-up", "price": "12 / yd", "nap": True}
    ],
    "cutting": {"tool": "rotary cutter", "table": "3 yd", "most_garments": 2},
}


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """A small run by first layouts alone, and where its markers are kept."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(laying, "cores", lambda: 1)
        patch.setitem(work.EFFORTS, "quick", Effort(0))
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        payload = {"order": ORDER, "effort": "quick", "options": {}}
        result = json.loads(json.dumps(work.run_task("run", payload, lambda told: None, lambda: False)))
        search = Search("run", "run", payload)
        search.turn("done", result)
        yield search


def opened(run: Search) -> LaysOnTable:
    """Its lays."""
    table = on_table(run)
    assert isinstance(table, LaysOnTable)
    return table


def test_lays_are_shown(run: Search) -> None:
    """Each lay is drawn with its own outlines, sizes and grainlines; there is no lay beyond the last."""
    table = opened(run)
    for number, lay in enumerate(table.run.lays):
        shown = table.shown(number)
        assert shown["lay"]["ticket"] == lay.ticket
        outlines = [outline for _, _, _, outline in lay.marker.outlines()]
        assert all(np.allclose(a["outline"], b) for a, b in zip(shown["placements"], outlines, strict=True))
        for placed, size in zip(shown["placements"], shown["sizes"], strict=True):
            assert placed["piece"].endswith(f" {size}")
            line = shapely.LineString(placed["grain"])
            assert shapely.Polygon(placed["outline"]).buffer(1e-6).contains(line)
            assert line.coords[0][1] == pytest.approx(line.coords[1][1])  # along the threads
        assert not shown["by_hand"]
    with pytest.raises(MissingError, match="counted from 0"):
        table.shown(len(table.run.lays))
    other = Search("one", "widths", {})
    with pytest.raises(StateError, match="opened on the table"):
        on_table(other)


def test_laid_by_hand(run: Search, tmp_path: Path) -> None:
    """A lay laid by hand is kept beside the run: its file is one of a lay of the order, and is checked from it.

    A ply longer than the table is refused, and so are pieces on one another.
    """
    table = opened(run)
    marker = table.run.lays[0].marker
    places = [(p.x, p.y, None) for p in marker.placements]
    last = max(range(len(places)), key=lambda i: places[i][0])
    there = table.moved(0, last, (places[last][0] + 40, places[last][1], None), None)
    assert there["legal"], there["why"]
    far = table.moved(0, last, (3000.0, places[last][1], None), None)
    assert not far["legal"] and "the table is 108 in" in far["why"]
    moved = [*places]
    moved[last] = (there["x"], there["y"], there["turn"])
    with pytest.raises(LayoutError, match=r"overlap|lies"):
        table.kept(0, [(0.0, 0.0, None)] * len(places))
    too_far = [*places]
    too_far[last] = (3000.0, places[last][1], None)
    with pytest.raises(LayoutError, match="the table is"):
        table.kept(0, too_far)
    kept = Search("kept", "run", run.payload)
    kept.turn("done", json.loads(json.dumps(table.kept(0, moved))))
    after = opened(kept)
    before, now = run.result or {}, kept.result or {}
    assert {key: now[key] for key in before} == before
    assert after.run.by_hand[1].marker.length == pytest.approx(there["length_mm"])
    assert "longer" in after.shown(0)["by_hand"]
    answered = Answered.of("run", kept.payload, kept.result)
    names = {one["name"] for one in downloads(answered)}
    assert {one.name for one in lay_downloads(1, is_by_hand=True)} <= names
    path = tmp_path / "lay-1-by-hand.json"
    path.write_bytes(download(answered, path.name)[0])
    (read,) = read_lays(order_of(ORDER), [path])
    assert read.marker.length == pytest.approx(there["length_mm"])
    assert json.loads(download(answered, "lay-1.json")[0])["length"] == marker.length
    assert download(answered, "lay-1-guide.txt")[0].startswith(b"Jacket")
    assert download(answered, "lay-1-full-size.pdf")[0].startswith(b"%PDF")
    damaged = Search("damaged", "run", run.payload)
    told = {"1": {"placed": [[0, 0, 0, 0, 0]], "length": 1.0}}
    damaged.turn("done", before | {"by_hand": told})
    with pytest.raises(StateError, match=GONE):
        opened(damaged)


def test_cutting(run: Search) -> None:
    """Every piece has one step, in the guide's order; figures are where it is drawn; spare cloth is bare."""
    told = cutting(run, 0)
    steps = told["steps"]
    assert [step["number"] for step in steps] == list(range(1, len(steps) + 1))
    pieces = [step["piece"] for step in steps if step["piece"] is not None]
    assert sorted(pieces) == list(range(len(told["chalked"]["placements"])))
    for step in steps:
        if step["piece"] is not None:
            outline = np.array(told["chalked"]["placements"][step["piece"]]["outline"])
            label, words = step["figures"][0]
            assert label == "From the start"
            assert inches(words) == pytest.approx(outline[:, 0].min() / 25.4, abs=1 / 16 + 1e-9)
    shapes = shapely.union_all([shapely.Polygon(placed["outline"]) for placed in told["chalked"]["placements"]])
    for spare in told["spare"]:
        box = shapely.box(spare["x0"], spare["y0"], spare["x1"], spare["y1"])
        assert box.intersection(shapes).area < 1e-3
    assert any("Rotary cutter" in line for line in told["cautions"])
    assert told["found"]["length"] == pytest.approx(opened(run).lay(0).marker.length)
    with pytest.raises(MissingError):
        cutting(run, 99)


def inches(words: str) -> float:
    """A length such as ``13 3/4 in``."""
    parts = words.removesuffix(" in").split()
    return sum(float(a) / float(b or 1) for a, _, b in (part.partition("/") for part in parts))
