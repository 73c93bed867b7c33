"""Whole numbers for exact solvers: millimetres counted in steps, so that an exact fit stays exact."""

from __future__ import annotations

import math
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor, wait
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterable

    from ortools.sat.python import cp_model

Stop = Callable[[], bool]
"""Tells whether to end early."""


def never() -> bool:
    """Do not end early."""
    return False


LOOK_EVERY = 0.1
"""Seconds between two looks at whether to end early."""

GRID = 1e-4
"""Grid on which sizes are looked for, mm: 1/16 in and 0.1 mm both lie on it."""


def common_step(sizes: Iterable[float], *, least: float = GRID) -> float:
    """The largest step, mm, of which all sizes are whole multiples; `least` where that would be smaller.

    Inches in eighths give steps of some millimetres, and thereby small numbers to search among.
    """
    sizes = list(sizes)
    counts = [round(size / GRID) for size in sizes]
    if any(abs(count * GRID - size) > 1e-6 for count, size in zip(counts, sizes, strict=True)):
        return least
    return max(least, math.gcd(*counts) * GRID)


def floor_steps(size: float, step: float) -> int:
    """Whole steps in a size; a millionth of a step short counts as whole."""
    return math.floor(size / step + 1e-6)


def ceil_steps(size: float, step: float) -> int:
    """Whole steps that cover a size; a millionth of a step over does not count."""
    return math.ceil(size / step - 1e-6)


def quiet_simplex(most: int) -> Any:
    """Options of a linear program: silent, on one core, so many steps at the most, and without presolve.

    Presolve costs more here than it saves.
    """
    import highspy

    options = highspy.HighsOptions()
    options.output_flag = False
    options.threads = 1
    options.presolve = "off"
    options.solver = "simplex"
    options.simplex_iteration_limit = most
    return options


def repeatable_solver(effort: float, *, seed: int = 1) -> cp_model.CpSolver:
    """A CP-SAT solver that gives the same answer each time: it counts work, not seconds.

    Parameters
    ----------
    effort
        Units of deterministic time; one is 1 to 4 seconds on a common machine.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.catch_sigint_signal = False  # else a later Ctrl-C would end the program
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = effort
    return solver


def solve_until(solver: cp_model.CpSolver, model: cp_model.CpModel, stop: Stop) -> Any:
    """The status that a solver ends with; ended early once it is told to stop.

    Another thread solves meanwhile: a Ctrl-C is heard in this one, and only between two steps of Python.
    """
    if stop is never:
        return solver.solve(model)
    with ThreadPoolExecutor(1) as executor:
        solving = executor.submit(solver.solve, model)
        try:
            while not wait([solving], LOOK_EVERY).done:
                if stop():
                    solver.stop_search()
            return solving.result()
        finally:
            while not solving.done():
                solver.stop_search()
                wait([solving], LOOK_EVERY)
