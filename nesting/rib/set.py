"""Bands out of ready sets, each of a hem band and two cuffs: how few sets give them all (CP-SAT, exact).

A ready band is finished along its edges, and so is cut across alone: what is cut of it lies side by side. A pattern
says how many of each band one ready band gives; whole numbers of patterns must give every band.
"""

from __future__ import annotations

import math
from itertools import islice
from typing import TYPE_CHECKING

from nesting.errors import NestingError, StripTooShortError
from nesting.rib.patterns import MOST_PATTERNS
from nesting.rib.plan import RibCut, RibPlan, RibRow
from nesting.steps import repeatable_solver
from pieces.units import bound_both, need_both

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from ortools.sat.python import cp_model

    from nesting.rib.band import RibBand, RibStock

ROUNDING = 1e-6
"""Bands longer than a ready one by less still fit it, mm."""

SetPattern = tuple[int, ...]


def solve_set(bands: Sequence[RibBand], stock: RibStock, effort: float) -> RibPlan:
    """Fewest sets; of the ways to cut them one that leaves most bands alone in a ready one, and cuffs in cuffs.

    Raises
    ------
    StripTooShortError
        If a band is longer or deeper than every ready band.
    """
    assert stock.cuff is not None and stock.depth is not None
    for band in bands:
        _require_ready(band, stock)
    hems, is_all_hems = _patterns(bands, stock.width)
    cuffs, is_all_cuffs = _patterns(bands, stock.cuff)
    times, sets, bound = _choose(bands, stock, hems, cuffs, effort)
    bound = bound if is_all_hems and is_all_cuffs else 1
    return _write(bands, stock, (hems, cuffs), times, sets, bound)


def _require_ready(band: RibBand, stock: RibStock) -> None:
    assert stock.depth is not None
    for what, needs, has in (("", band.length, max(stock.ready.values())), (" deep", band.depth, stock.depth)):
        if needs > has + ROUNDING:
            raise StripTooShortError(
                band.name,
                needs,
                has,
                f"'{band.name}' needs {need_both(needs)} of rib{what}; the set '{stock.name}' has"
                f" {bound_both(has)}{what}, and its bands are not joined: choose a larger set, or rib sold by length",
            )


def _patterns(bands: Sequence[RibBand], length: float) -> tuple[list[SetPattern], bool]:
    """Every way to cut one ready band, and whether these are all."""

    def extend(at: int, room: float, chosen: SetPattern) -> Iterator[SetPattern]:
        if at == len(bands):
            if any(chosen):
                yield chosen
            return
        most = min(bands[at].count, math.floor((room + ROUNDING) / bands[at].length))
        for number in range(most + 1):
            yield from extend(at + 1, room - number * bands[at].length, (*chosen, number))

    found = list(islice(extend(0, length, ()), MOST_PATTERNS + 1))
    alone = [
        tuple(int(i == at) for i in range(len(bands)))
        for at, band in enumerate(bands)
        if band.length <= length + ROUNDING
    ]
    return list(dict.fromkeys([*alone, *found[:MOST_PATTERNS]])), len(found) <= MOST_PATTERNS


def _choose(
    bands: Sequence[RibBand], stock: RibStock, hems: list[SetPattern], cuffs: list[SetPattern], effort: float
) -> tuple[list[int], int, int]:
    """How often each pattern is cut (hem bands' first), how many sets that takes, and how many it takes at least."""
    from ortools.sat.python import cp_model

    assert stock.cuff is not None
    model, most = cp_model.CpModel(), sum(band.count for band in bands)
    times = [model.new_int_var(0, most, "") for _ in (*hems, *cuffs)]
    sets = model.new_int_var(1, most, "")
    for at, band in enumerate(bands):
        model.add(sum(pattern[at] * x for pattern, x in zip((*hems, *cuffs), times, strict=True)) == band.count)
    model.add(sum(times[: len(hems)]) <= sets)
    model.add(sum(times[len(hems) :]) <= 2 * sets)
    _hint_alone(model, bands, hems, cuffs, times)
    model.minimize(sets)
    solver = repeatable_solver(effort / 2)
    if solver.solve(model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        raise NestingError(f"no way to cut the set '{stock.name}' was found: allow more effort")
    fewest, bound = solver.value(sets), math.ceil(solver.best_objective_bound - 1e-6)
    found = [solver.value(x) for x in times]
    model.add(sets == fewest)
    alone = most * math.ceil(stock.width)
    cut = (alone - round(stock.width)) * sum(times[: len(hems)]) + (alone - round(stock.cuff)) * sum(times[len(hems) :])
    model.maximize(cut)
    solver = repeatable_solver(effort / 2)
    if solver.solve(model) in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        found = [solver.value(x) for x in times]
    return found, fewest, bound


def _hint_alone(
    model: cp_model.CpModel,
    bands: Sequence[RibBand],
    hems: list[SetPattern],
    cuffs: list[SetPattern],
    times: list[cp_model.IntVar],
) -> None:
    """Start from every band cut alone, of a cuff where it fits one."""
    hinted = dict.fromkeys(range(len(times)), 0)
    for at, band in enumerate(bands):
        alone = tuple(int(i == at) for i in range(len(bands)))
        hinted[len(hems) + cuffs.index(alone) if alone in cuffs else hems.index(alone)] = band.count
    for index, value in hinted.items():
        model.add_hint(times[index], value)


def _write(
    bands: Sequence[RibBand],
    stock: RibStock,
    patterns: tuple[list[SetPattern], list[SetPattern]],
    times: list[int],
    sets: int,
    bound: int,
) -> RibPlan:
    """Patterns to rows, set by set."""
    hems, cuffs = patterns
    rows, cuts, copies = [], [], [0] * len(bands)
    chosen = list(zip((*hems, *cuffs), times, strict=True))
    ready = [(i + 1, "hem band", p) for i, p in enumerate(_repeat(chosen[: len(hems)]))]
    ready += [(i // 2 + 1, f"cuff {i % 2 + 1}", p) for i, p in enumerate(_repeat(chosen[len(hems) :]))]
    for index, (which, of_it, pattern) in enumerate(sorted(ready, key=lambda one: one[0])):
        source, offset = f"set {which}, {of_it}", 0.0
        for at, number in enumerate(pattern):
            for _ in range(number):
                band = bands[at]
                cuts.append(RibCut(band.name, copies[at], source, index, offset, band.length, band.depth, 0))
                copies[at] += 1
                offset += band.length
        deepest = max(band.depth for band, number in zip(bands, pattern, strict=True) if number)
        rows.append(RibRow(source, 0.0, deepest, offset, which, of_it))
    return RibPlan(stock, tuple(cuts), tuple(rows), 0.0, sets, 0, sets == bound, float(bound), True)


def _repeat(chosen: list[tuple[SetPattern, int]]) -> list[SetPattern]:
    return [pattern for pattern, number in chosen for _ in range(number)]
