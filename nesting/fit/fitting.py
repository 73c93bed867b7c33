"""Whether pieces fit on a remnant: with a layout, with a proof that they do not, or not found."""

from __future__ import annotations

import time
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Literal, NamedTuple

import numpy as np

from nesting.edit.carry import carry
from nesting.errors import NestingError, PieceTooWideError
from nesting.fit.aimed import search_within
from nesting.fit.clear import has_place, with_zones
from nesting.fit.ended import ended_by
from nesting.placing.question import HELD, Placing
from nesting.problem.lay import require_garments
from nesting.problem.pared import pared
from nesting.problem.tilt import over_all_tilts
from nesting.proof.bounds import least_cloth, longest_item, lower_bound
from nesting.search.settled import marker_of
from nesting.search.stop import MaxIterations
from nesting.tolerance import ALLOWED, TOLERANCE
from nesting.verify import Asked, Flaw, verify_asked
from pieces import Piece
from pieces.require import require_all

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from nesting.fit.aimed import AimsOf, Stops
    from nesting.fit.remnant import Remnant, RemnantSpread, Zone
    from nesting.marker.marker import Marker, Result
    from nesting.problem.item import Item
    from nesting.problem.lay import Sets
    from nesting.problem.problem import Problem
    from nesting.search.listener import AnyListener
    from nesting.search.stop import StopCriterion

SLACK = TOLERANCE
"""A marker longer than the remnant by no more than this, mm, fits: no tape shows it. A proof allows for it."""

FIRST_LAYOUTS = 8
"""First layouts of each way, whose pieces may fit at once; a quick proof comes next, and only then a search."""

QUICK_PROOF = 0.8
"""Effort for a proof before the search, a second or two."""

Answer = Literal["yes", "no", "not found"]


class RemnantLie(NamedTuple):
    """How the remnant lies: its spread, and whether its start is the end that cut-outs are not measured from."""

    spread: RemnantSpread
    turned: bool = False


@dataclass(frozen=True)
class Disproof:
    """Why pieces cannot fit.

    Parameters
    ----------
    kind
        ``"width"``, ``"piece"``: a piece is wider or longer than the cloth; ``"place"``: a piece has no place clear
        of the cut-outs; ``"area"``: there is not cloth enough; ``"length"``: no marker is as short.
    needs
        Length, mm, of the piece or that no marker can undercut; for ``"area"`` the share of the cloth there is; else 0.
    held
        The argument in words, or the piece.
    """

    kind: Literal["width", "piece", "place", "area", "length"]
    needs: float
    held: str


@dataclass(frozen=True)
class Tried:
    """One way in which the remnant was laid, and what came of it.

    Parameters
    ----------
    problem
        Pieces and cut-outs on the laid cloth; None where a piece is too wide, or the cloth cannot lie so.
    disproof
        Why the pieces do not fit.
    result
        What a search found, where there was one.
    refused
        Why the cloth cannot lie so.
    known
        Whether the layout is one that was known before, as it lay there.
    """

    way: RemnantLie
    problem: Problem | None = None
    disproof: Disproof | None = None
    result: Result | None = None
    refused: NestingError | None = None
    known: bool = False


@dataclass(frozen=True)
class Fitting:
    """The answer: what was tried, in the order it was tried.

    Parameters
    ----------
    seconds
        How long it took, all in all.
    seed
        The random seed of the searches.
    """

    remnant: Remnant
    tried: tuple[Tried, ...]
    seconds: float
    seed: int

    @property
    def answer(self) -> Answer:
        """``"yes"`` if some way holds a layout, ``"no"`` if all ways that can be are disproved."""
        if self.layout is not None:
            return "yes"
        return "no" if all(tried.disproof or tried.refused for tried in self.tried) else "not found"

    @property
    def layout(self) -> Tried | None:
        """The way that holds a layout."""
        return next((tried for tried in self.tried if tried.result and self._fits(tried.result)), None)

    @property
    def nearest(self) -> Tried | None:
        """Of the ways that were searched and not disproved, the one whose marker is shortest."""
        searched = [(tried.result.marker.length, i) for i, tried in enumerate(self.tried) if tried.result]
        open_ones = [(length, i) for length, i in searched if self.tried[i].disproof is None]
        return self.tried[min(open_ones)[1]] if open_ones else None

    def _fits(self, result: Result) -> bool:
        return result.marker.length <= self.remnant.length + SLACK


def fit_pieces(
    pieces: Iterable[Piece],
    remnant: Remnant,
    spreads: Sequence[RemnantSpread],
    stop: Stops,
    *,
    seed: int = 0,
    workers: int = 1,
    proof: float = 0.0,
    garments: int = 1,
    waste_twins: bool = False,
    listener: Callable[[str], AnyListener] | None = None,
    aims: AimsOf | None = None,
    beside: float = 0.0,
) -> Fitting:
    """Try to lay some pieces on a remnant.

    Proofs by bounds come first and take no time; then first layouts, a quick look through the places of all pieces,
    and a search, until the pieces fit. It is the search that any cloth gets, so that a remnant holds the marker that
    was found for cloth like it. What lies on the cloth folded lies on it open: there the folded layout is tried as
    well. Then a search goes on that aims at the remnant's length.

    Parameters
    ----------
    spreads
        Spreads to try, in this order.
    stop
        Fresh stop criteria for each way that is searched; any of them ends the search.
    proof
        How hard to look for a proof that bounds do not give, after a search, in units of `Placing`; 0 not at all.
    garments, waste_twins
        As of `lay_pieces`.
    aims
        What the search that any cloth gets aims at.
    beside
        How much is proved beside each effort of search, as of `solve`.

    Raises
    ------
    NestingError
        If the remnant can lie in none of the spreads.
    """
    cut = tuple(require_all(pieces, Piece, "the pieces of fit_pieces", "pieces"))
    require_garments(garments, "fit_pieces")
    terms = FitTerms(stop, seed, workers, proof, listener, aims, beside)
    return fit_sets([(cut, garments)], remnant, spreads, terms, waste_twins=waste_twins)


class FitTerms(NamedTuple):
    """How a layout is sought: all as of `fit_pieces`, and what ends a proof as soon as it says so."""

    stop: Stops
    seed: int = 0
    workers: int = 1
    proof: float = 0.0
    listener: Callable[[str], AnyListener] | None = None
    aims: AimsOf | None = None
    beside: float = 0.0
    until: StopCriterion | None = None


def fit_sets(
    sets: Sets,
    remnant: Remnant,
    spreads: Sequence[RemnantSpread],
    terms: FitTerms,
    *,
    waste_twins: bool = False,
    known: Marker | None = None,
) -> Fitting:
    """Try to lay garments of several sizes on a remnant, all else as of `fit_pieces`.

    Parameters
    ----------
    known
        A marker of the same pieces on other cloth. Where it goes on the remnant as it lies, nothing is laid anew.
    """
    begun = time.monotonic()
    # With a nap it matters at which end a corner is missing; without, turning the cloth changes nothing.
    turns = (False, True) if remnant.nap and remnant.cut_outs else (False,)
    ways = [RemnantLie(spread, turned) for spread in spreads for turned in turns]
    tried = [_prove(sets, remnant, way, waste_twins) for way in ways]
    if all(one.refused for one in tried) and tried[0].refused:
        raise tried[0].refused
    for i, one in enumerate(tried):
        if one.problem is None or one.disproof:
            continue
        hears = terms.listener(one.way.spread) if terms.listener else None
        options = {"seed": terms.seed, "listener": hears, "proof": terms.beside}
        search = partial(search_within, terms.stop, terms.aims, options)
        folded = None
        tried[i] = _as_known(one, known, remnant, search)
        if not tried[i].known:
            if one.way.spread == "open":
                folded = _prove(sets, remnant, one.way._replace(spread="folded"), waste_twins)
            tried[i] = _settled(one, folded, remnant, search, terms)
        if _is_over(tried[i], remnant):
            break
    for one in tried:
        if one.result:
            _verify(one, one.result, sets, remnant, waste_twins)
    return Fitting(remnant, tuple(tried), time.monotonic() - begun, terms.seed)


def _as_known(tried: Tried, known: Marker | None, remnant: Remnant, search: Callable[..., Result]) -> Tried:
    """The same with a marker that was known before, if that goes on the remnant as it lies."""
    assert tried.problem
    again = carry(known, tried.problem) if known else None
    if known is None or again is None or again.length > min(known.length, remnant.length) + SLACK:
        return tried
    result = search(tried.problem, remnant.length + SLACK, MaxIterations(0), initial=again)
    return replace(tried, result=replace(result, marker=again), known=True)


def _settled(
    tried: Tried,
    folded: Tried | None,
    remnant: Remnant,
    search: Callable[..., Result],
    terms: FitTerms,
) -> Tried:
    """The same after first layouts, a quick proof, a search and a finer proof, or the first of them to settle it.

    Parameters
    ----------
    folded
        The same cloth folded: its layout may be laid open.
    """
    within, workers = remnant.length + SLACK, terms.workers
    tried = replace(tried, result=search(tried.problem, within, MaxIterations(FIRST_LAYOUTS)))
    if _is_over(tried, remnant):
        return tried
    tried = _looked_through(tried, remnant, QUICK_PROOF if terms.proof > 0 else 0.0, terms.until)
    if tried.disproof or _is_over(tried, remnant):
        return tried
    tried = _with_shorter(tried, search(tried.problem, within, workers=workers))
    if folded and folded.problem and not folded.disproof and not _is_over(tried, remnant):
        tried = _laid_open(tried, search(folded.problem, within, workers=workers).marker)
    if tried.result and not _is_over(tried, remnant):
        again = search(tried.problem, within, workers=workers, initial=tried.result.marker)
        tried = _with_shorter(tried, replace(again, work=again.work + tried.result.work))
    return tried if _is_over(tried, remnant) else _looked_through(tried, remnant, terms.proof, terms.until)


def _with_shorter(tried: Tried, result: Result) -> Tried:
    """The same after a search, with the marker known before if that is shorter."""
    assert tried.result
    known = tried.result.marker
    return replace(tried, result=replace(result, marker=known) if known.length < result.marker.length else result)


def _laid_open(tried: Tried, folded: Marker) -> Tried:
    """The same with a marker of the cloth folded, its layers unfolded, if that is shorter than what was found."""
    assert tried.problem and tried.result
    again = carry(folded, tried.problem)
    if again is None or again.length >= tried.result.marker.length:
        return tried
    return replace(tried, result=replace(tried.result, marker=again))


def _verify(tried: Tried, result: Result, sets: Sets, remnant: Remnant, waste_twins: bool) -> None:
    """Make sure that a layout gives what was asked for, on the remnant if it is no longer than that."""
    cloth = remnant.turned() if tried.way.turned else remnant
    asked = Asked(
        tuple((tuple(pieces), number) for pieces, number in sets),
        cloth.fabric,
        tried.way.spread,
        waste_twins,
        flaws=tuple(Flaw(*zone) for zone in cloth.cut_outs),
        has_selvedges=cloth.selvedge > 0,
    )
    verify_asked(result.marker, asked)


def _prove(sets: Sets, remnant: Remnant, way: RemnantLie, waste_twins: bool) -> Tried:
    """The pieces' problem on a remnant laid in one way, and a proof that it has no answer if one is at hand."""
    cloth = remnant.turned() if way.turned else remnant
    try:
        problem = cloth.problem_of(sets, way.spread, waste_twins=waste_twins)
    except PieceTooWideError as error:
        where = error.where if remnant.selvedge or way.spread != "open" else "the remnant"
        said = PieceTooWideError(error.name, error.needs, error.usable, where, error.remedy)
        return Tried(way, disproof=Disproof("width", 0.0, str(said)))
    except NestingError as error:
        return Tried(way, refused=error)
    zones = cloth.lost(way.spread)
    return Tried(way, problem, disproof(problem, cloth.length, zones))


def disproof(problem: Problem, length: float, zones: Sequence[Zone]) -> Disproof | None:
    """A proof that the pieces do not fit on cloth of some length, mm; None if none is at hand.

    Parameters
    ----------
    zones
        Where on the laid cloth no piece may lie; they do not overlap.
    """
    problem = problem.to_prove
    longest, item = longest_item(problem)
    if longest > length + SLACK + 2 * ALLOWED:
        return Disproof("piece", longest, _name(item))
    whole = with_zones(problem, zones)
    small, small_whole = pared(problem), pared(whole)
    if least_cloth(small_whole) > small.cloth_width * (length + SLACK + ALLOWED):
        taken = least_cloth(problem)
        there = problem.cloth_width * length - (least_cloth(whole) - taken)
        return Disproof("area", taken / there if there > 0 else np.inf, "the pieces' area alone")
    stood_in = {choice.item for choice in problem.choices}
    for number, item in enumerate(over_all_tilts(problem).items if zones else ()):
        if not item.quantity or number in stood_in:
            continue
        if not any(has_place(variant, length, zones) for variant in item.variants):
            return Disproof("place", 0.0, _name(item))
    bound, held = lower_bound(problem)
    if bound <= length + SLACK:
        bound, held = lower_bound(whole)
    return Disproof("length", bound, held) if bound > length + SLACK else None


def _name(item: Item) -> str:
    return item.piece.name if item.piece else item.name


def _is_over(tried: Tried, remnant: Remnant) -> bool:
    """Whether there is nothing more to try: the pieces fit, or someone asked to stop."""
    result = tried.result
    return result is not None and (result.marker.length <= remnant.length + SLACK or result.stopped_by == "interrupt")


def _looked_through(tried: Tried, remnant: Remnant, effort: float, until: StopCriterion | None) -> Tried:
    """The same with what comes of looking through the places of all pieces: a proof, or a layout that fits."""
    problem, result, within = tried.problem, tried.result, remnant.length + SLACK
    assert problem and result
    if result.bound > within:
        return replace(tried, disproof=Disproof("length", result.bound, result.bound_held))
    if effort <= 0:
        return tried
    cloth = remnant.turned() if tried.way.turned else remnant
    zones = [zone.outline for zone in cloth.lost(tried.way.spread)]
    placing = Placing(problem, within, zones, partial(marker_of, problem))
    with ended_by(placing, until, within):
        answer = placing.ask(within, effort).kind
    if answer == "impossible":
        return replace(tried, disproof=Disproof("length", within, HELD))
    if placing.best and placing.best.length < result.marker.length:
        return replace(tried, result=replace(result, marker=placing.best))
    if until is not None and until(within):
        return replace(tried, result=replace(result, stopped_by="interrupt"))
    return tried
