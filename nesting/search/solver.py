"""The front door of the layout engine."""

from __future__ import annotations

import math
import time
from contextlib import ExitStack, closing
from dataclasses import replace
from functools import lru_cache, partial
from itertools import islice
from typing import TYPE_CHECKING, Any, Literal

from nesting.errors import CheckError
from nesting.marker.marker import Marker, Result
from nesting.marker.opinion import check
from nesting.problem.likeness import difference
from nesting.problem.problem import Problem
from nesting.proof.bounds import ROUNDING, lower_bound
from nesting.proof.exact import solve_exact
from nesting.search import warm_up as prepare
from nesting.search.few_orders import FEW_TRIED, FewOrders
from nesting.search.fill import fill, orders
from nesting.search.listener import listener_of
from nesting.search.repeated import repeat_section, section_of
from nesting.search.row import lay_in_a_row
from nesting.search.simple import simple_layout
from nesting.search.stop import AnyOf, SearchTime, reason_of, require_stop
from nesting.search.workers import Helpers, side_by_side
from nesting.shape.layout import Layout
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes
from pieces.errors import WrongTypeError
from pieces.require import require, require_whole, told

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterator
    from concurrent.futures import Executor

    from nesting.cloth.repeat import Repeat
    from nesting.search.listener import AnyListener, Listener
    from nesting.search.stop import StopCriterion

    _Candidate = Marker | Result | Literal["waiting"] | None
    _Found = Layout | Literal["waiting"] | None

FILLS = 10
"""First layouts tried before the search proper, fewer where there are many outlines."""

TRIALS = 3
"""First layouts of each of several ways to settle a problem, of which the shortest decides."""

FEW = 5
"""So few outlines need no helpers."""

FEW_RECTANGLES, EXACT_EFFORT = 10, 2.0
"""So few outlines, if all are rectangles, are laid by CP-SAT first, with this much effort."""

PROBLEMS_KEPT = 4
"""Problems whose outlines and no-fit polygons are kept, for a second search of one of them."""

STARTS = 8
"""Places on the cloth's pattern at which a marker is begun, on trial."""

STALE_BLOCK = 3000
"""Turns of the search without a shorter section after which all outlines are searched at once."""

PROVED = 1e-6
"""A length this close, as a share, to a bound that allows for rounding alone is as short as can be."""

STEP_SECONDS = 0.25
"""How often a listener hears of steps."""


def solve(
    problem: Problem,
    stop: StopCriterion,
    *,
    seed: int = 0,
    listener: AnyListener | None = None,
    workers: int = 1,
    initial: Marker | None = None,
    executor: Executor | None = None,
) -> Result:
    """Lay all pieces of a problem on as short a length of cloth as can be found.

    Anytime: the first marker is there in a fraction of a second, whatever `stop` says; each better one is
    checked, then told to `listener`. An interrupt from the keyboard ends the search, not the answer. The same
    seed, one worker and a stop by iterations give the same marker.

    Parameters
    ----------
    problem
        What is to be laid, and in which ways.
    stop
        When to stop: any function, called once an iteration with the best length so far, mm; true means stop.
    seed
        Random seed.
    listener
        Hears of better markers and of progress; or any function, called with each better marker.
    workers
        Searches to run side by side, each on a core of its own.
    initial
        A marker of the same problem to start from.
    executor
        Where the searches beside the first one run; by default in fresh processes on this machine.

    Raises
    ------
    CheckError
        If `initial` is no good, or of another problem. A layout of the search that fails the check is never told of:
        the next one is taken, and until one passes, all pieces one behind another.
    """
    _require_searchable(problem, seed, workers, initial, executor)
    require_stop(stop)
    hears = listener_of(listener)
    if initial is not None:
        _require_start(problem, initial)
    run = _Run(problem, stop, seed, hears)
    try:
        with closing(_search(problem, hears, seed, workers, initial, executor)) as candidates:
            run.go(candidates)
    except KeyboardInterrupt:
        if run.best is None:
            raise
        run.stopped_by = "interrupt"
    return run.result()


def _require_searchable(problem: Any, seed: Any, workers: Any, initial: Any, executor: Any) -> None:
    """Make sure that all but the stop and the listener is of its kind."""
    require(problem, Problem, "the problem of solve", "a Problem, such as lay_pieces makes")
    for count, what, least in ((seed, "seed", 0), (workers, "workers", 1)):
        require_whole(count, f"the {what} of solve", least=least)
    require(initial, Marker | None, "the initial marker", "a Marker, such as result.marker")
    if executor is not None and not callable(getattr(executor, "submit", None)):
        raise WrongTypeError(f"the executor must be one of concurrent.futures, not {told(executor)}")


def _require_start(problem: Problem, initial: Marker) -> None:
    """Make sure that a search may start from a marker: it is sound, and one of this problem or an alternative."""
    differs = [difference(one, initial.problem) for one in (problem, *problem.alternatives)]
    if all(differs):
        raise CheckError(
            f"the initial marker is of another problem: {differs[0]}; give a marker of this problem, or none"
        )
    check(initial)


class _Run:
    """One call of `solve`: the best so far, and whether to go on."""

    def __init__(self, problem: Problem, stop: StopCriterion, seed: int, listener: Listener) -> None:
        self.start = self._told = time.monotonic()
        self.best: Marker | None = None
        self.stopped_by = "no improvement"
        self._stop, self._seed, self._listener = stop, seed, listener
        self._bound, self._bound_held = lower_bound(problem)
        self._shortest = lower_bound(problem, ROUNDING * problem.width)[0]
        self._iterations = 0

    def go(self, candidates: Iterator[_Candidate]) -> None:
        """Take candidates, one an iteration, until it is time to stop."""
        since = time.monotonic()
        for candidate in candidates:
            before, since = since, time.monotonic()
            if candidate == "waiting":
                # Not an iteration, or how many there are would depend on the machine: only the clock is asked.
                if isinstance(self._stop, SearchTime | AnyOf):
                    self._stop.pause(since - before)
                if getattr(self._stop, "left", math.inf) > 0:
                    continue
            elif isinstance(candidate, Result):
                if candidate.bound > self._bound:
                    self._bound, self._bound_held = candidate.bound, candidate.bound_held
                self._offer(candidate.marker)
                if candidate.stopped_by == "proved":
                    self._shortest = max(self._shortest, candidate.marker.length)
            elif candidate is not None:
                self._offer(candidate)
            if self.best is not None and self._is_over(self.best.length):
                break
            self._iterations += 1

    def _offer(self, marker: Marker) -> None:
        if self.best is not None and marker.length >= self.best.length:
            return
        try:
            check(marker)
        except CheckError as error:
            if self.best is not None:
                return
            marker = _in_a_row(marker.problem, error)  # a better one is sure to come
        self.best = marker
        self._listener.on_best(marker)

    def _is_over(self, length: float) -> bool:
        now = time.monotonic()
        if now - self._told > STEP_SECONDS:
            self._told = now
            self._listener.on_step(self._iterations, now - self.start)
        if length <= self._shortest * (1 + PROVED):
            self.stopped_by = "proved"
            return True
        if self._stop(length):
            self.stopped_by = reason_of(self._stop)
            return True
        return False

    def result(self) -> Result:
        assert self.best is not None
        seconds = time.monotonic() - self.start
        return Result(self.best, self._bound, self._bound_held, self._iterations, seconds, self._seed, self.stopped_by)


def _search(
    problem: Problem,
    listener: Listener,
    seed: int,
    workers: int,
    initial: Marker | None,
    executor: Executor | None,
) -> Generator[_Candidate, None, None]:
    """Candidates, one an iteration: the marker given, fills, an exact answer if it may be had, then the search's."""
    if initial is not None:
        problem = initial.problem
    elif problem.alternatives:
        problem = min((problem, *problem.alternatives), key=lambda one: (_first_length(one, seed), one.num_placements))
    if problem.stretches:
        yield from _in_stretches(problem, listener, seed, workers, initial, executor)
        return
    if initial is not None:
        yield initial
    elif problem.repeat and problem.repeat.along:
        problem = yield from _aligned(problem, problem.repeat, seed)
    shapes, nofit = _made_ready(problem)
    starts = [] if initial is None else [Layout.from_marker(initial, shapes)]
    starts += yield from _first_layouts(shapes, nofit, seed)
    if problem.num_placements <= FEW_RECTANGLES and (exact := solve_exact(problem, effort=EXACT_EFFORT)):
        starts.append(Layout.from_marker(exact.marker, shapes))
        yield exact
    if problem.num_placements <= FEW_TRIED:
        tried = FewOrders(shapes, nofit, min(start.length for start in starts)).shortest()
        starts += [tried] if tried else []
        yield tried.to_marker(shapes) if tried else None
    yield from prepare.wait(prepare.begin(), listener)
    layouts = partial(_layouts, seed=seed, workers=workers, executor=executor)
    if section := section_of(problem):
        starts.append((yield from _repeated(*section, shapes, seed, layouts)))
    start = min(starts, key=lambda layout: layout.length)
    for found in layouts(shapes, nofit, start):
        yield found.to_marker(shapes) if isinstance(found, Layout) else found


def _first_layouts(shapes: Shapes, nofit: NoFit, seed: int) -> Generator[_Candidate, None, list[Layout]]:
    """Markers that take no search: bottom-left fillings in several orders, and boxes on shelves or in lanes."""
    found = []
    for order in islice(orders(shapes, seed), max(1, min(FILLS, 1000 // shapes.problem.num_placements))):
        found.append(fill(shapes, nofit, order))
        yield found[-1].to_marker(shapes)
        prepare.begin()  # only now: the first marker is not to wait
    simple = simple_layout(shapes, nofit)
    yield simple.to_marker(shapes) if simple else None
    return [*found, simple] if simple else found


def _in_stretches(
    problem: Problem,
    listener: Listener,
    seed: int,
    workers: int,
    initial: Marker | None,
    executor: Executor | None,
) -> Generator[_Candidate, None, None]:
    """Markers of a problem in stretches, which are searched by turns."""
    from nesting.marker.stretches import join_stretches, split_stretches

    best: list[Marker | None] = [None] * len(problem.stretches)
    starts = split_stretches(initial) if initial else best
    with ExitStack() as stack:
        searches = [
            stack.enter_context(closing(_search(stretch, listener, seed, workers, start, executor)))
            for stretch, start in zip(problem.stretches, starts, strict=True)
        ]
        going = list(enumerate(searches))
        while going:
            for i, search in list(going):
                try:
                    found = next(search)
                except StopIteration:
                    going.remove((i, search))
                    continue
                marker, before = found.marker if isinstance(found, Result) else found, best[i]
                if isinstance(marker, Marker) and (before is None or marker.length < before.length):
                    best[i] = marker
                    laid = [each for each in best if each is not None]
                    yield join_stretches(problem, laid) if len(laid) == len(best) else None
                else:
                    yield "waiting" if marker == "waiting" else None


def _in_a_row(problem: Problem, before: CheckError) -> Marker:
    """The plainest marker of a problem, where another has failed the check."""
    marker = lay_in_a_row(problem)
    try:
        check(marker)
    except CheckError as error:
        name = f"'{problem.name}'" if problem.name else "the cloth"
        raise CheckError(f"no layout on {name} passes the check: {before}; and one behind another, {error}") from error
    return marker


@lru_cache(maxsize=PROBLEMS_KEPT)
def _made_ready(problem: Problem) -> tuple[Shapes, NoFit]:
    """What a problem comes to before any search; kept for when the same problem is searched again."""
    shapes = Shapes(problem)
    return shapes, NoFit(shapes)


def _first_length(problem: Problem, seed: int) -> float:
    """The length of the shortest of a few first layouts of a problem, and of the simple ones, mm."""
    if problem.stretches:
        return sum(_first_length(stretch, seed) for stretch in problem.stretches)
    shapes, nofit = _made_ready(problem)
    simple = simple_layout(shapes, nofit)
    filled = min(fill(shapes, nofit, order).length for order in islice(orders(shapes, seed), TRIALS))
    return min(simple.length, filled) if simple else filled


def _aligned(problem: Problem, repeat: Repeat, seed: int) -> Generator[Marker, None, Problem]:
    """The problem with its marker begun where on the pattern the first layout is shortest: a piece starts it."""
    matches = {v.match[0] % repeat.along for item in problem.items for v in item.variants if v.match}
    found: list[tuple[float, float]] = []
    nofit: NoFit | None = None
    for start in sorted(matches, key=lambda match: -match)[:STARTS]:
        shapes = Shapes(replace(problem, repeat=replace(repeat, start=start)))
        nofit = nofit or NoFit(shapes)
        nofit.shapes = shapes
        layout = fill(shapes, nofit, next(orders(shapes, seed)))
        found.append((layout.length, start))
        yield layout.to_marker(shapes)
    start = min(found)[1] if found else repeat.start
    return replace(problem, repeat=replace(repeat, start=start))


def _repeated(
    section: Problem, times: int, whole: Shapes, seed: int, layouts: Callable[..., Iterator[_Found]]
) -> Generator[_Candidate, None, Layout]:
    """Markers of a section laid again and again, while the section gets shorter; the last of them."""
    shapes = Shapes(section)
    nofit = NoFit(shapes)
    start = min((fill(shapes, nofit, order) for order in islice(orders(shapes, seed), 2)), key=lambda f: f.length)
    best, stale = repeat_section(start, times, nofit), 0
    yield best.to_marker(whole)
    for found in layouts(shapes, nofit, start):
        if isinstance(found, Layout):
            best, stale = min(best, repeat_section(found, times, nofit), key=lambda layout: layout.length), 0
            yield best.to_marker(whole)
        else:
            stale += found is None
            yield found
        if stale >= STALE_BLOCK:
            break
    return best


def _layouts(
    shapes: Shapes, nofit: NoFit, start: Layout, *, seed: int, workers: int, executor: Executor | None
) -> Generator[_Found, None, None]:
    """Ever shorter layouts, found here and by helpers, with None in between."""
    count = workers - 1 if len(shapes.items) > FEW else 0
    with closing(Helpers(shapes.problem, seed, count, executor)) as helpers:
        from nesting.search.rounds import Rounds

        search = Rounds(shapes, nofit, start, seed)
        yield "waiting"  # for the tables of the search, which are ready now
        yield from side_by_side(search, helpers)
