"""Trims of several garments: what is sold alike is one line."""

from __future__ import annotations

from pieces.trims.summed import sum_trims
from pieces.trims.trim import TrimNeeded


def test_by_kind() -> None:
    """Zips of one length are counted together, others apart; thread is added up before whole spools are taken."""
    zips = [TrimNeeded("separating zip", (edge,), 1, needed, sold) for edge, needed, sold in
            (("a", 540.0, 550.0), ("b", 545.0, 550.0), ("c", 590.0, 600.0))]  # fmt: skip
    thread = TrimNeeded("thread", ("side",), needed=40_000.0, sold=100_000.0)
    found = sum_trims([(1, zips[0]), (2, zips[1]), (1, zips[2]), (2, thread), (1, thread)])
    assert [(trim.name, trim.count, trim.sold) for trim in found[:2]] == [
        ("separating zip", 3, 550.0),
        ("separating zip", 1, 600.0),
    ]
    assert found[0].where == ("a", "b")
    assert found[0].needed == 0  # not the same for all
    assert found[2].needed == 120_000.0
    assert found[2].bought(1) == 2  # three times by itself it would be three spools


def test_one() -> None:
    """What one garment needs once stays as it is."""
    trim = TrimNeeded("elastic", ("cuff",), needed=300.0, sold=114.3, width=25.0)
    assert sum_trims([(1, trim)]) == (trim,)
