"""Trims of a run against those of its sizes, summed up once more."""

from __future__ import annotations

import json
from math import ceil
from types import SimpleNamespace
from typing import Any

import pytest

from pieces.trims.trim import TrimNeeded
from pieces.units import Units
from reports.printed import printed
from reports.run.plain import run_to_plain
from reports.run.trims import trims_of_run
from reports.run.words import run_parts
from tests.make.orders import planned


def test_all_garments() -> None:
    """Eight jackets: a zip and a label each; thread as long as all need, rounded up once; every size is named."""
    run = planned()
    known = run.order.model().trims
    assert known is not None
    by_size = {size.name: known(size.pieces, run.order.styled()) for size in run.garments.sizes}
    cut = {name: sum(n for (_, size), n in run.cut.items() if size == name) for name in by_size}
    lines = [trim.line for trim in run.trims]
    zips = [line for line in lines if line.name == "separating zip"]
    assert sum(line.count or 0 for line in zips) == sum(cut.values()) == 8
    assert {line.sold for line in zips} == {
        trim.sold for trims in by_size.values() for trim in trims if trim.name == "separating zip"
    }
    for name in ("thread", "overlock thread"):
        needed = sum(trim.needed * cut[size] for size, trims in by_size.items() for trim in trims if trim.name == name)
        (line,) = [line for line in lines if line.name == name]
        assert line.count == max(ceil(needed / 100_000), 1 if name == "thread" else 3)
    for trim in run.trims:
        assert sum(trim.sizes.values()) in cut.values() or trim.sizes == cut


def test_told_everywhere() -> None:
    """The same lines stand in the answer for machines and in that for people."""
    run = planned()
    plain = run_to_plain(run)["trims_needed"]
    assert [one["buy"] for one in plain] == [trim.line.buy for trim in run.trims]
    assert json.loads(json.dumps(plain)) == plain
    said = printed(*run_parts(run))
    assert all(one["buy"] in said for one in plain)


@pytest.mark.parametrize("name", ["thread", "label"])
def test_each_is_one_line(name: str) -> None:
    """What does not differ from size to size is one line."""
    assert sum(trim.line.name == name for trim in planned().trims) == 1


def test_zips_by_their_lengths() -> None:
    """Zips of two lengths are two lines, each with the sizes that it is for; labels are one."""
    needed = {
        size: (
            TrimNeeded("separating zip", ("front edge",), count=1, needed=length - 1, sold=length),
            TrimNeeded("label", ("back neck",), count=1),
        )
        for size, length in (("S", 500.0), ("M", 500.0), ("L", 550.0))
    }
    order: Any = SimpleNamespace(
        model=lambda: SimpleNamespace(trims=lambda pieces, _: needed[pieces]),
        styled=lambda: None,
        written_in=Units.METRIC,
    )
    sizes = tuple(SimpleNamespace(name=size, pieces=size) for size in needed)
    garments: Any = SimpleNamespace(sizes=sizes)
    found = trims_of_run(order, garments, {("rust", "S"): 2, ("navy", "M"): 3, ("rust", "L"): 4})
    assert [(trim.line.name, trim.line.count, trim.sizes) for trim in found] == [
        ("separating zip", 5, {"S": 2, "M": 3}),
        ("label", 9, {"S": 2, "M": 3, "L": 4}),
        ("separating zip", 4, {"L": 4}),
    ]
