"""A lay's file read back: the same marker, checked from the order as it is now; nothing in the file is believed."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import CheckError, NestingError
from nesting.marker.marker import Marker, Placement
from nesting.marker.opinion import check
from nesting.verify import TOLERANCE, Holds, holding
from reports.ask.marker_file import read_marker
from reports.errors import JobError
from reports.run.garments import draft_all
from reports.run.laid import rules_of
from reports.run.lay_marker import LayMarker
from reports.run.lots import lots_of
from reports.run.tickets import count_plies
from reports.run.use import ply_length

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

    from nesting.lays.order import Mix
    from nesting.problem.problem import Problem
    from reports.ask.marker_file import LaySaid, MarkerSaid, PlacementSaid
    from reports.ask.order.order import Order
    from reports.run.lots import Lot


TURNED = 1e-6
"""Degrees by which two turns that are the same may differ in a file."""


def read_lays(order: Order, paths: Sequence[Path]) -> list[LayMarker]:
    """The lays of some files, each with the marker that was laid for it.

    Raises
    ------
    JobError
        If a file is none of a lay, or is not of this order as it is now: one line that says why.
    """
    said = [(path, read_marker(path)) for path in paths]
    lots = list(lots_of(order, draft_all(order)))
    found = [_read(order, lots, path, one) for path, one in said]
    for number, times in Counter(lay.ticket for lay in found).items():
        if times > 1:
            raise JobError(f"lay {number} is given {times} times: give each file once")
    return found


def _read(order: Order, lots: Sequence[Lot], path: Path, said: MarkerSaid) -> LayMarker:
    try:
        for _ in lay_holds(order, lots, said):
            pass
        assert said.lay is not None
        lot = lot_of(lots, said.lay)
        mix = _mix_of(lot, said.lay)
        return LayMarker(said.lay.ticket, lot, mix, said.lay.plies, _again(said, lot.problem(mix)))
    except NestingError as error:
        raise JobError(f"{path.name} is not a lay of {order.name} as it is now: {error}: run 'ellwand run'") from error


def lay_holds(order: Order, lots: Sequence[Lot], said: MarkerSaid) -> Iterator[Holds]:
    """Everything that holds of a lay's file, one thing after another: its marker first, then its plies.

    Raises
    ------
    JobError
        If the file is not of a lay.
    CheckError
        At the first thing that does not hold.
    """
    if said.lay is None:
        raise JobError("the marker is not of a lay: 'ellwand run' writes those, such as lay-1.json; else use --job")
    lay = said.lay
    lot = lot_of(lots, lay)
    mix, cloth = _mix_of(lot, lay), lot.cloths[next(iter(lay.plies))]
    yield from holding(said.layout(), lot.asked(mix, cloth))
    if lay.stack != cloth.spread:
        raise CheckError(f"the lay's plies lie {lay.stack}, and '{cloth.name}' is to be spread {cloth.spread}")
    if cloth.spread == "face-to-face":
        for _ in holding(said.layout().bare, lot.asked_of_two(mix)):
            pass
        yield Holds("stack", "two plies face to face give twice as many, left and right")
    yield from _plies_hold(order, lot, said, lay)


def _plies_hold(order: Order, lot: Lot, said: MarkerSaid, lay: LaySaid) -> Iterator[Holds]:
    """Table, tool, and what is said to be cut."""
    rules, cloth, total = rules_of(order, lot), lot.cloth, sum(lay.plies.values())
    if total > rules.most_plies:
        most = rules.most_plies
        raise CheckError(f"the lay has {count_plies(total)}, and the {order.cutting.tool} cuts {most} at once")
    if (held := sum(lay.garments.values())) > rules.most_garments:
        raise CheckError(f"the marker holds {held} garments, and {rules.most_garments} are allowed")
    ply = ply_length(said, cloth.end_allowance)
    if abs(lay.ply_mm - ply) > TOLERANCE:
        raise CheckError(f"the file says a ply is {lay.ply_mm:.2f} mm long, but marker and ends take {ply:.2f}")
    if ply > rules.longest + TOLERANCE:
        raise CheckError(f"a ply is {ply:.1f} mm long, and the table {rules.longest:.1f}")
    cut = {key: {size: n * number for size, n in lay.garments.items()} for key, number in lay.plies.items()}
    if lay.cut != cut:
        raise CheckError(f"the file says the lay cuts {lay.cut}, but its plies and its marker give {cut}")
    each = ", ".join(f"{number} × {key}" for key, number in lay.plies.items())
    yield Holds("plies", f"{each}, {ply:.1f} mm each: as table and tool allow; {held * total} garments")


def lot_of(lots: Sequence[Lot], lay: LaySaid) -> Lot:
    """The lot of the order that a lay is of; CheckError if there is none."""
    for lot in lots:
        if lot.part == lay.part and set(lay.plies) <= set(lot.cloths):
            return lot
    there = "; ".join(f"{lot.part}: {', '.join(lot.cloths)}" for lot in lots)
    raise CheckError(f"the lay is of {lay.part} in {', '.join(lay.plies)}, and the order has {there}")


def _mix_of(lot: Lot, lay: LaySaid) -> Mix:
    if strange := [size for size in lay.garments if size not in lot.pieces]:
        raise CheckError(f"the lay has size '{strange[0]}', and the order has {', '.join(lot.pieces)}")
    return tuple(lay.garments.get(size, 0) for size in lot.pieces)


def _again(said: MarkerSaid, problem: Problem) -> Marker:
    """The marker made again: each outline is a way in which its item may lie."""
    if problem.repeat is not None and said.pattern_start is not None:
        problem = replace(problem, repeat=replace(problem.repeat, start=said.pattern_start))
    copies: Counter[int] = Counter()
    placements = []
    for placed in said.placements:
        item, variant, x, y = _way(placed, problem)
        placements.append(Placement(item, copies[item], variant, x, y))
        copies[item] += 1
    marker = Marker(problem, tuple(placements), said.length)
    check(marker)
    return marker


def _way(placed: PlacementSaid, problem: Problem) -> tuple[int, int, float, float]:
    """The item and its variant that an outline is of, and where it lies."""
    outline = np.array(placed.outline)
    x, y = (float(low) for low in outline.min(axis=0))
    for i, item in enumerate(problem.items):
        if item.name == placed.item and item.yields == placed.yields:
            for j, way in enumerate(item.variants):
                same = way.on_fold == placed.on_fold and way.mirrored == placed.mirrored
                same = same and abs((way.turn - placed.turn + 180) % 360 - 180) <= TURNED
                if same and way.outline.shape == outline.shape and _lies_so(way.outline + (x, y), outline):
                    return i, j, x, y
    raise CheckError(f"'{placed.piece}' lies in a way that the layout of this order does not have")


def _lies_so(way: NDArray[np.float64], outline: NDArray[np.float64]) -> bool:
    return bool(np.abs(way - outline).max() <= TOLERANCE)
