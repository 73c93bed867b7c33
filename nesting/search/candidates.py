"""Candidates of a search, one after the other: first layouts, exact ones, and those of the search proper."""

from __future__ import annotations

from contextlib import ExitStack, closing
from dataclasses import replace
from functools import lru_cache, partial
from itertools import islice
from typing import TYPE_CHECKING, Literal, NamedTuple

from nesting.marker.marker import Marker, Result
from nesting.proof.exact import solve_exact
from nesting.search import warm_up as prepare
from nesting.search.few_orders import FEW_TRIED, FewOrders
from nesting.search.fill import fill, orders
from nesting.search.race import Race
from nesting.search.repeated import repeat_section, section_of
from nesting.search.simple import simple_layout
from nesting.search.workers import Helpers, side_by_side
from nesting.shape.layout import Layout
from nesting.shape.nofit import NoFit
from nesting.shape.shapes import Shapes

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterator
    from concurrent.futures import Executor

    from nesting.cloth.repeat import Repeat
    from nesting.problem.problem import Problem
    from nesting.search.listener import Listener
    from nesting.search.meter import WorkMeter
    from nesting.search.stop import Aims

    Candidate = Marker | Result | Literal["waiting", "proving"] | None
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


class SearchTerms(NamedTuple):
    """What all searches of one call have in common; `better` gives a marker that was found elsewhere."""

    listener: Listener
    seed: int
    workers: int
    executor: Executor | None
    meter: WorkMeter
    aims: Aims | None
    spent: Callable[[], float]
    better: Callable[[], Marker | None]


def candidates_of(problem: Problem, terms: SearchTerms, initial: Marker | None) -> Generator[Candidate, None, None]:
    """Candidates, one an iteration: the marker given, fills, an exact answer if it may be had, then the search's."""
    seed, meter = terms.seed, terms.meter
    if initial is not None:
        problem = initial.problem
    elif problem.alternatives:
        problem = min((problem, *problem.alternatives), key=lambda one: (_first_length(one, seed), one.num_placements))
    if problem.stretches:
        yield from _in_stretches(problem, terms, initial)
        return
    if initial is not None:
        yield initial
    elif problem.repeat and problem.repeat.along:
        problem = yield from _aligned(problem, problem.repeat, seed)
    shapes, nofit = _made_ready(problem)
    starts = [] if initial is None else [Layout.from_marker(initial, shapes)]
    starts += yield from _first_layouts(shapes, nofit, seed, meter)
    if problem.num_placements <= FEW_RECTANGLES and (exact := solve_exact(problem, effort=EXACT_EFFORT)):
        starts.append(Layout.from_marker(exact.marker, shapes))
        yield exact
    if problem.num_placements <= FEW_TRIED:
        walk = FewOrders(shapes, nofit, min(start.length for start in starts))
        tried = walk.shortest()
        meter.place(walk.places)
        starts += [tried] if tried else []
        yield tried.to_marker(shapes) if tried else None
    yield from prepare.wait(prepare.begin(), terms.listener)
    layouts = partial(_layouts, terms=terms)
    if section := section_of(problem):
        starts.append((yield from _repeated(*section, shapes, seed, layouts)))
    start = min(starts, key=lambda layout: layout.length)
    for found in layouts(shapes, nofit, start):
        yield found.to_marker(shapes) if isinstance(found, Layout) else found


def _first_layouts(
    shapes: Shapes, nofit: NoFit, seed: int, meter: WorkMeter
) -> Generator[Candidate, None, list[Layout]]:
    """Markers that take no search: bottom-left fillings in several orders, and boxes on shelves or in lanes."""
    found = []
    for order in islice(orders(shapes, seed), max(1, min(FILLS, 1000 // shapes.problem.num_placements))):
        found.append(fill(shapes, nofit, order))
        yield found[-1].to_marker(shapes)
        prepare.begin()  # only now: the first marker is not to wait
    simple = simple_layout(shapes, nofit)
    meter.begin()
    yield simple.to_marker(shapes) if simple else None
    return [*found, simple] if simple else found


def _in_stretches(problem: Problem, terms: SearchTerms, initial: Marker | None) -> Generator[Candidate, None, None]:
    """Markers of a problem in stretches, which are searched by turns."""
    from nesting.marker.stretches import join_stretches, split_stretches

    best: list[Marker | None] = [None] * len(problem.stretches)
    starts = split_stretches(initial) if initial else best
    whole: Marker | None = None

    def aims(own: float) -> float | None:
        """What a stretch must come to for the whole to be short enough."""
        aim = terms.aims(whole.length) if terms.aims and whole else None
        return None if aim is None or whole is None else own - (whole.length - aim)

    with ExitStack() as stack:
        searches = [
            stack.enter_context(closing(candidates_of(stretch, terms._replace(aims=aims), start)))
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
                    whole = join_stretches(problem, laid) if len(laid) == len(best) else None
                    yield whole
                else:
                    yield "waiting" if marker == "waiting" else None


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
) -> Generator[Candidate, None, Layout]:
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


def _layouts(shapes: Shapes, nofit: NoFit, start: Layout, *, terms: SearchTerms) -> Generator[_Found, None, None]:
    """Ever shorter layouts, found here and by helpers, with None in between."""
    count = terms.workers - 1 if len(shapes.items) > FEW else 0
    note = terms.listener.on_note
    with closing(Helpers(shapes.problem, terms.seed, count, terms.executor, note)) as helpers:
        from nesting.search.rounds import Rounds

        search = Race(
            lambda seed: Rounds(shapes, nofit, start, seed, terms.meter, terms.aims),
            terms.seed,
            lambda: terms.meter.done,
            terms.spent,
        )
        yield "waiting"  # for the tables of the search, which are ready now
        for found in side_by_side(search, helpers, terms.spent):
            better = terms.better()
            if better and better.problem is shapes.problem and better.length < search.best.length:
                search.best = Layout.from_marker(better, shapes)
            yield found
