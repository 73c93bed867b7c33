"""Rib by ticket: every part of every band goes to one garment, and each garment has the bands of its size."""

from __future__ import annotations

from collections import Counter
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest

from nesting.errors import LayPlanError
from reports.run.draw.rib import divide
from reports.run.each import cut_garments
from reports.run.plain import run_to_plain
from reports.run.rib_tickets import bands_by_ticket, in_order, spans, ticket_lines
from tests.make.orders import planned

if TYPE_CHECKING:
    from reports.run.plan import RunPlan


@pytest.fixture(scope="module")
def run() -> RunPlan:
    """Eight jackets, their rib so narrow that bands are joined."""
    return planned((r'^opened = "52 in"', 'opened = "36 in"'))


def test_every_part_once(run: RunPlan) -> None:
    """Each jacket has two cuffs, a hem band and a neckband of its size; all parts are used, none twice."""
    (rib,) = run_to_plain(run)["ribs"]
    each: Counter[tuple[int, int, str, str]] = Counter()
    for band in rib["by_ticket"]:
        assert band["band"].endswith(f" {band['size']}")
        parts = [rib["cuts"][number - 1] for number in band["parts"]]
        assert {(part["band"], part["copy"]) for part in parts} == {(band["band"], band["copy"])}
        assert [part["part"] for part in parts] == list(range(1, len(parts) + 1))
        assert len(band["joined_at"]) == len(parts) - 1 and band["cut_from"]
        each[band["ticket"], band["ply"], band["colour"], band["band"].rsplit(" ", 1)[0]] += 1
    used = [number for band in rib["by_ticket"] for number in band["parts"]]
    assert sorted(used) == list(range(1, len(rib["cuts"]) + 1))
    cuffs = sum(number for (*_, name), number in each.items() if name == "cuff")
    others = sum(number for (*_, name), number in each.items() if name in ("hem band", "neckband"))
    assert (cuffs, others) == (16, 16)
    for ticket in run.tickets:
        of_it = [band for band in rib["by_ticket"] if band["ticket"] == ticket.number]
        assert len(of_it) == 4 * sum(ticket.gives.values())


def test_in_words(run: RunPlan) -> None:
    """A line names ticket, colour, plies, bands and parts; sheets have all rows, none divided."""
    (of,) = run.ribs
    bands = bands_by_ticket(of, run.each, run.order.written_in)
    lines = list(ticket_lines(bands))
    assert lines[0].startswith("ticket 1, rust, ply 1") and any("joined at" in line for line in lines)
    sheets = list(divide(in_order(of.plan)))
    assert sum(len(sheet.cuts) for sheet in sheets) == len(of.plan.cuts)
    assert sum(sheet.length for sheet in sheets) == pytest.approx(of.plan.length)


def test_bands_that_are_not_there(run: RunPlan) -> None:
    """A garment more than there are bands for is no plan, nor is one fewer."""
    (of,) = run.ribs
    with pytest.raises(LayPlanError, match="left for ticket"):
        bands_by_ticket(of, (*run.each, run.each[-1]), run.order.written_in)
    with pytest.raises(LayPlanError, match="more bands than"):
        bands_by_ticket(of, run.each[1:], run.order.written_in)


def test_garments_of_cloth_for_all_colours() -> None:
    """Two plies of one cloth for rust and navy, an S on each: one of each colour; three S are not what is cut."""
    lot = SimpleNamespace(part="shell", stands_for={"canvas": ("rust", "navy")})
    lay: Any = SimpleNamespace(ticket=1, lot=lot, plies={"canvas": 2}, garments={"S": 1})
    found = cut_garments([lay], {("rust", "S"): 1, ("navy", "S"): 1})
    assert [(one.ply, one.colour) for one in found] == [(1, "rust"), (2, "navy")]
    with pytest.raises(LayPlanError, match="do not cut as many"):
        cut_garments([lay], {("rust", "S"): 3})


def test_spans() -> None:
    """Numbers in a row are written as a span."""
    assert spans([1, 2, 3, 7, 9, 10]) == "1-3, 7, 9-10"
