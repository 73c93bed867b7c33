"""The whole-number program of a lay plan, for HiGHS: plies of each colour under each mix, lays, and markers made.

A mix with any ply costs a marker; its plies take so many lays. HiGHS branches and cuts; CP-SAT, tried on the same
orders, was behind it in the plans and in the bounds. Work is counted in the solver's own steps, not in seconds, so
that an answer repeats.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from nesting.steps import Stop, never

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.lays.order import Mix

WORK = 400_000
"""Stops at which HiGHS asks whether to go on, times the program's numbers, in one unit of effort: 1 to 4 seconds on a
common machine."""


class CellRange(NamedTuple):
    """Garments of a colour and size: least, most and asked for, and what one more costs than that, and one fewer."""

    least: int
    most: int
    asked: int
    over: float
    under: float


@dataclass(frozen=True)
class MixChoice:
    """A mix that may be used. Plies are counted in steps here.

    Parameters
    ----------
    mix, length
        Garments of each size, and the marker's length, mm.
    ply
        What a step of plies costs, by colour.
    lay
        What a lay costs, whatever its plies.
    most
        Steps of plies that the order can use, by colour.
    """

    mix: Mix
    length: float
    ply: tuple[float, ...]
    lay: float
    most: tuple[int, ...]


@dataclass(frozen=True)
class PlyProgram:
    """All that is to be decided on.

    Parameters
    ----------
    choices
        The mixes.
    cells
        Garments by colour, then size.
    step, height
        Plies in a step, and steps in a lay at the most.
    marker
        What a marker costs.
    fewest
        Different markers that are needed at the least.
    low
        Steps of plies in a lay at the least.
    fine
        What a lay of fewer costs; 0: there must be none.
    """

    choices: tuple[MixChoice, ...]
    cells: tuple[tuple[CellRange, ...], ...]
    step: int
    height: int
    marker: float
    fewest: int = 1
    low: int = 1
    fine: float = 0.0


@dataclass(frozen=True)
class PliesFound:
    """Steps of plies by choice and colour (None: no plan was found), and what is proved."""

    steps: tuple[tuple[int, ...], ...] | None
    bound: float
    infeasible: bool = False


class _Rows:
    """Rows of a sparse matrix, as they come."""

    def __init__(self) -> None:
        self.starts, self.columns, self.values = [0], list[int](), list[float]()
        self.low, self.high = list[float](), list[float]()

    def add(self, columns: Sequence[int], values: Sequence[float], low: float, high: float) -> None:
        self.columns += columns
        self.values += values
        self.starts.append(len(self.columns))
        self.low.append(low)
        self.high.append(high)

    def add_cell(
        self, columns: list[int], values: list[float], cell: CellRange, costs: list[float], limits: list[int]
    ) -> tuple[int | None, int | None]:
        """Garments of a colour and size, between the least and the most.

        Parameters
        ----------
        columns, values
            The plies that give some, and how many garments a step of them gives.
        costs, limits
            Those of all columns.

        Returns
        -------
        The columns of what is over and of what is under the number asked for; they come last, where they cost.
        """
        self.add(columns, values, cell.least, cell.most)
        over = under = None
        if cell.over and cell.most > cell.asked:
            over = len(costs)
            costs.append(cell.over)
            limits.append(cell.most - cell.asked)
            self.add([*columns, over], [*values, -1.0], -math.inf, cell.asked)
        if cell.under and cell.asked > cell.least:
            under = len(costs)
            costs.append(cell.under)
            limits.append(cell.asked - cell.least)
            self.add([*columns, under], [*values, 1.0], cell.asked, math.inf)
        return over, under


def relax(program: PlyProgram) -> tuple[float, np.ndarray] | None:
    """What no plan undercuts, and what each mix costs beside that; None where nothing can be cut as asked.

    Each ply carries its share of marker and lay, as small as it can be. That parts the program into one for each
    colour, so small that all mixes go in at once. Or else the fewest markers are paid for beforehand, as far as every
    marker costs the same, and plies carry their share of the rest: the higher of the two bounds holds.
    """
    paid = program.marker + min(choice.lay for choice in program.choices)
    return max(filter(None, (_relax(program, 0.0), _relax(program, paid))), key=lambda each: each[0], default=None)


def _relax(program: PlyProgram, paid: float) -> tuple[float, np.ndarray] | None:
    bound, beside = paid * program.fewest, np.full(len(program.choices), np.inf)
    counts = np.array([choice.mix for choice in program.choices], dtype=float) * program.step
    for colour, cells in enumerate(program.cells):
        used = np.array([index for index, choice in enumerate(program.choices) if choice.most[colour]], dtype=np.int64)
        own = [program.choices[index] for index in used]
        shares = [choice.ply[colour] + _share(program, choice, paid) for choice in own]
        rows, limits = _Rows(), [choice.most[colour] for choice in own]
        for size, cell in enumerate(cells):
            has = np.flatnonzero(counts[used, size])
            rows.add_cell(has.tolist(), counts[used[has], size].tolist(), cell, shares, limits)
        if not shares and not any(cell.least for cell in cells):  # nothing can be cut of it, and nothing need be
            continue
        solver = _solver(shares, limits, rows, whole=False)
        solver.run()
        if not _is_optimal(solver):
            return None
        bound += solver.getInfo().objective_function_value
        beside[used] = np.minimum(beside[used], solver.getSolution().col_dual[: len(used)])
    return bound, beside


def _share(program: PlyProgram, choice: MixChoice, paid: float) -> float:
    """What a step of plies carries at the least of its marker and lays, where so much is paid for each marker."""
    total, height, marker = sum(choice.most), program.height, program.marker - paid
    if total > height and marker > 0:
        return choice.lay / height + marker / total
    return (choice.lay + marker) / min(total, height)


def decide(
    program: PlyProgram, effort: float, start: Sequence[Sequence[int]] | None = None, stop: Stop = never
) -> PliesFound:
    """Steps of plies for each choice and colour at the least cost found, and the bound proved.

    Parameters
    ----------
    start
        A plan to begin from, as steps by choice and colour.
    stop
        Asked now and then whether to end early.
    """
    columns = _Columns(program)
    solver = _solver(columns.costs, columns.most, columns.rows, whole=True)
    if start is not None:
        columns.begin_from(solver, start)
    _stop_after(solver, max(1, int(effort * WORK / max(1, len(columns.rows.columns)))), stop)
    solver.run()
    if start is not None and not _is_told_as_valued(solver, columns):
        return decide(program, effort, stop=stop)
    return _found(solver, columns)


def _is_told_as_valued(solver: Any, columns: _Columns) -> bool:
    """Whether the solution costs what it is said to: seen not to, where all was decided at once, beside a start."""
    told, values = solver.getInfo().objective_function_value, solver.getSolution().col_value
    return not math.isfinite(told) or math.isclose(float(np.dot(columns.costs, values)), told, rel_tol=1e-6)


class _Columns:
    """Where each decision stands in the program: plies from `first`, the marker made at `made`, its lays at `lays`.

    What is over and under by colour and size stands at the columns that `beside` names, and lays that are too low at
    `low`, by the column of their lays.
    """

    def __init__(self, program: PlyProgram) -> None:
        self.program, self.rows = program, _Rows()
        self.costs, self.most = list[float](), list[int]()
        self.first, self.made, self.lays = list[int](), list[int](), list[int]()
        self.low = dict[int, int]()
        self.beside = list[tuple[int, int, int | None, int | None]]()
        for choice in program.choices:
            self._add_choice(choice)
        self._add_cells()
        self.rows.add(self.made, [1.0] * len(self.made), program.fewest, math.inf)

    def _add_choice(self, choice: MixChoice) -> None:
        rows, height = self.rows, self.program.height
        plies = range(len(self.costs), len(self.costs) + len(choice.ply))
        made = lays = plies.stop
        self.costs += [*choice.ply, self.program.marker]
        self.most += [*choice.most, 1]
        if sum(choice.most) > height:
            lays = len(self.costs)
            self.costs.append(choice.lay)
            self.most.append(math.ceil(sum(choice.most) / height))
            rows.add([made, lays], [1.0, -1.0], -math.inf, 0.0)
            rows.add([*plies, lays], [1.0] * len(plies) + [-float(height)], -math.inf, 0.0)
        else:
            self.costs[made] += choice.lay
        if self.program.low > 1:
            self._keep_tall([*plies], lays, self.most[lays])
        for ply, number in zip(plies, choice.most, strict=True):
            rows.add([ply, made], [1.0, -float(number)], -math.inf, 0.0)
        self.first.append(plies.start)
        self.made.append(made)
        self.lays.append(lays)

    def _keep_tall(self, plies: list[int], lays: int, most: int) -> None:
        """No lay lower than the least, or so many of them paid for."""
        low, columns, values = float(self.program.low), [*plies, lays], [1.0] * len(plies) + [-float(self.program.low)]
        if self.program.fine:
            self.low[lays] = len(self.costs)
            columns.append(len(self.costs))
            values.append(low)
            self.costs.append(self.program.fine)
            self.most.append(most)
        self.rows.add(columns, values, 0.0, math.inf)

    def _add_cells(self) -> None:
        """Garments of each colour and size, between the least and the most."""
        program = self.program
        for colour, cells in enumerate(program.cells):
            for size, cell in enumerate(cells):
                has = [at for at, choice in enumerate(program.choices) if choice.mix[size] and choice.most[colour]]
                numbers = [float(program.choices[at].mix[size] * program.step) for at in has]
                plies = [self.first[at] + colour for at in has]
                over, under = self.rows.add_cell(plies, numbers, cell, self.costs, self.most)
                self.beside.append((colour, size, over, under))

    def begin_from(self, solver: Any, start: Sequence[Sequence[int]]) -> None:
        """Tell the solver a plan to begin from."""
        import highspy

        values = np.zeros(len(self.costs))
        for steps, first, made, lays in zip(start, self.first, self.made, self.lays, strict=True):
            values[first : first + len(steps)] = steps
            values[lays] = math.ceil(sum(steps) / self.program.height)
            values[made] = bool(sum(steps))
            if lays in self.low:
                values[self.low[lays]] = max(0, math.ceil(values[lays] - sum(steps) / self.program.low))
        for colour, size, over, under in self.beside:
            cut = sum(
                steps[colour] * choice.mix[size] * self.program.step
                for steps, choice in zip(start, self.program.choices, strict=True)
            )
            beyond = cut - self.program.cells[colour][size].asked
            if over is not None:
                values[over] = max(0, beyond)
            if under is not None:
                values[under] = max(0, -beyond)
        given = highspy.HighsSolution()
        given.col_value = values
        solver.setSolution(given)

    def steps(self, values: Sequence[float]) -> tuple[tuple[int, ...], ...]:
        """Steps of plies by choice and colour."""
        whole, colours = np.rint(values).astype(int).tolist(), len(self.program.cells)
        return tuple(tuple(whole[first : first + colours]) for first in self.first)


def _stop_after(solver: Any, checks: int, stop: Stop) -> None:
    """End the search when it has looked up so often to ask whether to go on, or is told to stop."""
    from highspy import cb

    asked = 0

    def watch(kind: Any, message: str, out: Any, answer: Any, data: Any) -> None:
        nonlocal asked
        asked += 1
        answer.user_interrupt = asked > checks or stop()

    solver.setCallback(watch, None)
    solver.startCallback(cb.HighsCallbackType.kCallbackMipInterrupt)


def _found(solver: Any, columns: _Columns) -> PliesFound:
    import highspy

    info = solver.getInfo()
    if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return PliesFound(None, math.inf, infeasible=True)
    if info.primal_solution_status != int(highspy.SolutionStatus.kSolutionStatusFeasible):
        return PliesFound(None, info.mip_dual_bound)
    return PliesFound(columns.steps(solver.getSolution().col_value), info.mip_dual_bound)


def _is_optimal(solver: Any) -> bool:
    import highspy

    return bool(solver.getModelStatus() == highspy.HighsModelStatus.kOptimal)


def _solver(costs: Sequence[float], most: Sequence[int], rows: _Rows, *, whole: bool) -> Any:
    """A silent solver on one core with the program in it."""
    import highspy

    # The plain class under it: `Highs` prints a line on standard output before it can be told not to.
    plain: Any = highspy.Highs.__base__
    solver, model, options = plain(), highspy.HighsLp(), highspy.HighsOptions()
    options.output_flag, options.threads, options.mip_rel_gap = False, 1, 0.0
    solver.passOptions(options)
    model.num_col_, model.num_row_ = len(costs), len(rows.low)
    model.col_cost_, model.col_lower_ = np.array(costs, dtype=float), np.zeros(len(costs))
    model.col_upper_ = np.array(most, dtype=float)
    model.row_lower_, model.row_upper_ = np.array(rows.low, dtype=float), np.array(rows.high, dtype=float)
    matrix = model.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.start_, matrix.index_ = np.array(rows.starts), np.array(rows.columns, dtype=np.int32)
    matrix.value_ = np.array(rows.values, dtype=float)
    if whole:
        model.integrality_ = [highspy.HighsVarType.kInteger] * len(costs)
    solver.passModel(model)
    return solver
