"""Jigsaws into proofs: cloth of known length cut to pieces at random, which no proof may say do not fit on it.

By hand: ``python -m tests.make.proving 20000 --seed 1``; the same seed makes the same jigsaws.
"""

from __future__ import annotations

import argparse
import collections
import contextlib
import sys
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

import numpy as np
import shapely
from shapely.ops import split

from nesting import Fabric, lay_pieces, solve
from nesting.errors import NestingError, SpreadError
from nesting.fit.fitting import disproof, fit_pieces
from nesting.fit.remnant import Remnant, Zone
from nesting.folds.depth import fold_in_part, folded_at
from nesting.folds.fold_then_open import fold_then_open
from nesting.placing.question import cannot_lie_within
from nesting.problem.problem import Problem
from nesting.proof.bounds import lower_bound
from nesting.proof.exact import solve_exact
from nesting.proof.slices import slice_bound
from nesting.search.stop import MaxIterations
from pieces import Piece
from pieces.length import mm
from tests.make.outlines import sides

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

LEAST_SHARE, MOST_CUTS = 0.01, 8
"""Share of the cloth that the least part has, and cuts at the most."""

SPREADS = (
    "crosswise",
    "face-to-face",
    "face-up",
    "part-folded",
    "fold-then-open",
    "twins wasted",
    "nap one way",
    "nap by garment",
    "tilted",
)
"""What a jigsaw is laid as, beside plain, folded and with flaws."""

MOST_TILT, BESIDE = 5.0, 1.0
"""Degrees that a part is tilted at the most; cloth beside such parts, mm: turned back, they are wider by a hair."""

PLACING = 10.0
"""Times the effort of other proofs that the places of all pieces get: they take some to be looked through."""

ROUNDING = 1e-6
"""What the cutting of a jigsaw itself may lose, mm."""


@dataclass(frozen=True)
class Jigsaw:
    """Cloth, and its parts.

    Parameters
    ----------
    length, width
        Of the cloth, mm.
    parts
        Outlines in place, shape (n, 2), x along the cloth, counter-clockwise.
    """

    length: float
    width: float
    parts: tuple[NDArray[np.float64], ...]


def cut_at_random(
    rng: np.random.Generator, *, straight: bool = False, size: tuple[float, float] | None = None
) -> Jigsaw:
    """Cloth cut up: across and along from edge to edge, aslant, or in a bent line that leaves hollow parts.

    Parameters
    ----------
    straight
        Only across and along, so that all parts are rectangles.
    size
        Length and width of the cloth, mm; at random if not given.
    """
    length, width = size or np.round(rng.uniform(100, 900, 2), int(rng.integers(0, 4))).tolist()
    parts = [shapely.box(0, 0, length, width)]
    for _ in range(int(rng.integers(1, MOST_CUTS + 1))):
        part = parts.pop(int(np.argmax([each.area for each in parts])))
        found = [each for each in split(part, _line(rng, part, straight)).geoms if isinstance(each, shapely.Polygon)]
        is_fine = all(each.area > LEAST_SHARE * length * width for each in found)
        parts += found if is_fine and len(found) > 1 else [part]
    rings = [np.array(shapely.geometry.polygon.orient(part).exterior.coords)[:-1] for part in parts]
    return Jigsaw(length, width, tuple(rings))


def _line(rng: np.random.Generator, part: shapely.Polygon, straight: bool) -> shapely.LineString:
    """A cut through a part, from beyond it to beyond it."""
    low_x, low_y, high_x, high_y = part.bounds
    reach = high_x - low_x + high_y - low_y
    at = np.array([rng.uniform(low_x, high_x), rng.uniform(low_y, high_y)])
    at = at if straight or rng.random() < 0.5 else np.array(part.representative_point().coords[0])
    way = rng.integers(0, 2) * np.pi / 2 if straight or rng.random() < 0.4 else rng.uniform(0, np.pi)
    bend = 0.0 if straight or rng.random() < 0.6 else rng.uniform(-1.2, 1.2)
    ends = [at + reach * np.array([np.cos(a), np.sin(a)]) for a in (way, way + np.pi + bend)]
    return shapely.LineString([ends[0], at, ends[1]])


def plain_problem(rng: np.random.Generator, jigsaw: Jigsaw) -> Problem:
    """The parts as outlines that may lie as they were, and perhaps in other ways."""
    outlines = [part - part.min(axis=0) for part in jigsaw.parts]
    turns = [[0.0], [0.0, 180.0], [0.0, 90.0, 180.0, 270.0]][int(rng.integers(3))]
    return Problem.from_outlines(jigsaw.width, outlines, [1] * len(outlines), [turns] * len(outlines))


def on_fold(jigsaw: Jigsaw) -> list[Piece]:
    """The parts as cut out of two layers, the fold at the lower edge: a half on it, or a left and a right."""
    pieces = []
    for number, part in enumerate(jigsaw.parts):
        corners = part - (part[:, 0].min(), 0.0)
        along = [i for i in range(len(part)) if max(corners[i][1], corners[(i + 1) % len(part)][1]) < 1e-9]
        touches = bool((corners[:, 1] < 1e-9).any())
        is_half = len(along) == 1 and (corners[:, 1] < 1e-9).sum() == 2
        if is_half:
            corners[corners[:, 1] < 1e-9, 1] = 0.0
        elif not touches:
            corners = corners - (0.0, corners[:, 1].min())
        edges = sides([(x, y) for x, y in corners.tolist()], [0.0] * len(part), along[0] if is_half else None)
        pair = {} if is_half else {"cut": 2, "mirrored_pair": True}
        pieces.append(Piece(f"part-{number}", edges, **pair))  # type: ignore[arg-type]
    return pieces


def spread_problems(rng: np.random.Generator, what: str) -> tuple[dict[str, Problem], float]:
    """Jigsaws laid as one of `SPREADS`, and the length on which all their parts lie by construction, mm.

    Raises
    ------
    NestingError
        If the parts are said not to go on, which is never true.
    """
    jigsaw, times = cut_at_random(rng, straight=rng.random() < 0.5), int(rng.integers(1, 3))
    nap, half = bool(rng.random() < 0.5), 2 * int(rng.integers(1, 4))
    cloth = Fabric("cloth", mm(jigsaw.width), nap=nap)
    if what == "part-folded":
        return _folded_in_part(rng, jigsaw, times)
    if what == "fold-then-open":
        return _folded_then_opened(rng, jigsaw)
    if what == "tilted":
        return _tilted(rng, jigsaw)
    if what == "twins wasted":
        pieces, waste = _wasteful(rng, jigsaw)
        wide = Fabric("cloth", mm(2 * jigsaw.width), nap=nap)
        problem = lay_pieces(pieces, wide, "folded", garments=times, waste_twins=waste)
    elif what == "crosswise":
        problem = lay_pieces(_pairs(rng, jigsaw), Fabric("cloth", mm(jigsaw.width)), "crosswise", garments=times)
    elif what == "face-to-face":
        problem = lay_pieces(_pairs(rng, jigsaw), cloth, "face-to-face", garments=times * half // 2, plies=half)
    elif what == "face-up":
        # The jigsaw, and its mirror image behind it: a left and a right of each part.
        plies, times = half // 2 + 1, 2 * times
        problem = lay_pieces(_pairs(rng, jigsaw), cloth, "face-up", garments=times // 2 * plies, plies=plies)
    else:
        pieces, times = [_piece(f"part-{i}", part) for i, part in enumerate(jigsaw.parts)], times + 1
        way: bool | Literal["by garment"] = "by garment" if what == "nap by garment" else True
        problem = lay_pieces(pieces, Fabric("cloth", mm(jigsaw.width), nap=way), "open", garments=times)
    return {what: problem}, times * jigsaw.length


def _piece(name: str, part: NDArray[np.float64], fold: int | None = None, *, cut: int = 1, pair: bool = False) -> Piece:
    corners = [(x, y) for x, y in (part - part.min(axis=0)).tolist()]
    return Piece(name, sides(corners, [0.0] * len(corners), fold), cut=cut, mirrored_pair=pair)


def _half(name: str, part: NDArray[np.float64], cut: int) -> Piece:
    """A rectangle drawn as one half of it, to be cut on a fold."""
    long, high = np.ptp(part, axis=0).tolist()
    return _piece(name, np.array([(0, 0), (long, 0), (long, high / 2), (0, high / 2)]), 0, cut=cut)


def _is_rectangle(part: NDArray[np.float64]) -> bool:
    return len(part) == 4 and all(len(set(part[:, axis].tolist())) == 2 for axis in (0, 1))


def _pairs(rng: np.random.Generator, jigsaw: Jigsaw) -> list[Piece]:
    """The parts as pairs, and some rectangles as two pieces each drawn on a fold."""
    return [
        _half(f"part-{i}", part, 2)
        if _is_rectangle(part) and rng.random() < 0.3
        else _piece(f"part-{i}", part, cut=2, pair=True)
        for i, part in enumerate(jigsaw.parts)
    ]


def _wasteful(rng: np.random.Generator, jigsaw: Jigsaw) -> tuple[list[Piece], bool]:
    """As `on_fold`, some wanted once, and some halves that lie whole in both layers; and whether a twin is wasted."""
    pieces, waste = on_fold(jigsaw), bool(rng.random() < 0.5)
    for i, part in enumerate(jigsaw.parts):
        how = rng.random()
        if how < 0.2 and not pieces[i].on_fold:
            pieces[i], waste = _piece(f"part-{i}", part), True
        elif how < 0.8 and _is_rectangle(part):
            cut = 1 + (how < 0.5)
            pieces[i], waste = _half(f"part-{i}", part, cut), waste or cut == 1
    return pieces, waste


def _folded_in_part(rng: np.random.Generator, folded: Jigsaw, times: int) -> tuple[dict[str, Problem], float]:
    """A jigsaw on the folded part, and another beside it, or that and its mirror image."""
    pieces, is_pair, depth = on_fold(folded), rng.random() < 0.5, folded.width
    beside = cut_at_random(rng, straight=rng.random() < 0.5, size=(folded.length, round(rng.uniform(60, 600), 1)))
    pieces += [_piece(f"single-{i}", part, cut=1 + is_pair, pair=is_pair) for i, part in enumerate(beside.parts)]
    fabric = Fabric("cloth", mm(2 * depth + beside.width * (1 + is_pair)), nap=bool(rng.random() < 0.3))
    found = {"at its depth": folded_at(depth, pieces, fabric, garments=times)}
    with contextlib.suppress(SpreadError):  # at none of the depths tried, which may be
        found["at a depth chosen"] = fold_in_part(pieces, fabric, garments=times, most=2)[1]
    return found, times * folded.length


def _folded_then_opened(rng: np.random.Generator, folded: Jigsaw) -> tuple[dict[str, Problem], float]:
    """A jigsaw on folded cloth, and one behind it on the cloth opened out, some parts of which may lie across."""
    opened = cut_at_random(rng, straight=rng.random() < 0.5, size=(round(rng.uniform(60, 600), 1), 2 * folded.width))
    pieces = on_fold(folded)
    for i, part in enumerate(opened.parts):
        piece = _piece(f"open-{i}", part)
        pieces.append(replace(piece, lies="cross") if rng.random() < 0.3 else piece)
    fabric = Fabric("cloth", mm(2 * folded.width), nap=bool(rng.random() < 0.3))
    most = int(rng.integers(0, 3))
    return {f"{most} moved": fold_then_open(pieces, fabric, most=most)}, folded.length + opened.length


def _tilted(rng: np.random.Generator, jigsaw: Jigsaw) -> tuple[dict[str, Problem], float]:
    """A jigsaw of pieces as large as they are once the cloth has shrunk, each tilted by some angle to lie in it."""
    shrinkage = tuple(rng.uniform(0, 12, 2).tolist()) if rng.random() < 0.7 else (0.0, 0.0)
    fabric = Fabric("cloth", mm(jigsaw.width + BESIDE), shrinkage=shrinkage)
    most, pieces = float(rng.uniform(0.5, MOST_TILT)), []
    for number, part in enumerate(jigsaw.parts):
        turn = np.radians(rng.uniform(-most, most))
        back = np.array([(np.cos(turn), -np.sin(turn)), (np.sin(turn), np.cos(turn))])
        pieces.append(replace(_piece(f"part-{number}", part / fabric.growth @ back), tilt=most))
    return {"open": lay_pieces(pieces, fabric, "open")}, jigsaw.length


def proofs_of(problem: Problem, effort: float) -> Iterator[tuple[str, float]]:
    """Each length that is said to be needed, with what says so."""
    yield "lower_bound", lower_bound(problem)[0]
    if effort:
        yield "solve", solve(problem, MaxIterations(0)).bound
        yield "slice_bound", slice_bound(problem, effort)[0]
        if problem.num_placements <= 6 and not problem.stretches and (exact := solve_exact(problem, effort=effort)):
            yield "solve_exact", exact.bound


def wrong_proofs(seed: int, number: int, effort: float = 0.02) -> tuple[str, list[str]]:
    """Cut one jigsaw and ask every proof that may be asked of it: its kind, and those that go too far.

    Parameters
    ----------
    effort
        For proofs by CP-SAT, which get it in one case of eight; on spreads of several layers in one of three.
    """
    rng = np.random.default_rng((seed, number))
    kind = (*("plain", "folded", "remnant") * 2, *SPREADS)[number % (6 + len(SPREADS))]
    effort = effort if rng.random() < (1 / 3 if kind in SPREADS else 1 / 8) else 0.0
    if kind == "remnant":
        return kind, list(_wrong_on_remnant(rng, effort))
    if kind in SPREADS:
        try:
            problems, length = spread_problems(rng, kind)
        except NestingError as error:
            return kind, [f"refused: {error}"]
    else:
        jigsaw = cut_at_random(rng, straight=rng.random() < 0.3)
        problems = {"strip": plain_problem(rng, jigsaw)} if kind == "plain" else _laid_double(rng, jigsaw)
        length = jigsaw.length
    return kind, [fault for name, problem in problems.items() for fault in _wrong_of(name, problem, length, effort)]


def _wrong_of(name: str, problem: Problem, length: float, effort: float) -> Iterator[str]:
    """What is said of a problem that is wrong, as its pieces lie on so much cloth."""
    for proof, bound in proofs_of(problem, effort):
        if bound > length + ROUNDING:
            yield f"{name}, {proof}: {bound!r} of {length!r}"
    if said := disproof(problem, length, ()):
        yield f"{name}, disproof: {said}"
    if effort and cannot_lie_within(problem, length + ROUNDING, (), PLACING * effort):
        yield f"{name}, cannot_lie_within"


def _laid_double(rng: np.random.Generator, jigsaw: Jigsaw) -> dict[str, Problem]:
    """The parts on cloth folded at the jigsaw's lower edge, and on the same cloth opened out."""
    pieces, fabric = on_fold(jigsaw), Fabric("cloth", mm(2 * jigsaw.width), nap=bool(rng.random() < 0.3))
    found = {"folded": lay_pieces(pieces, fabric, "folded"), "open": lay_pieces(pieces, fabric, "open")}
    if len(pieces) > 1:
        found["fold-then-open"] = fold_then_open(pieces, fabric)
    return found


def _wrong_on_remnant(rng: np.random.Generator, effort: float) -> Iterator[str]:
    """Some parts are cut-outs, the rest pieces, which fit by construction: the answer is never no."""
    jigsaw = cut_at_random(rng, straight=True)
    parts, lost = list(jigsaw.parts), int(rng.integers(0, min(4, len(jigsaw.parts))))
    zones = tuple(_zone(part) for part in parts[:lost])
    pieces = [
        Piece(f"part-{i}", sides([(x, y) for x, y in (part - part.min(axis=0)).tolist()], [0.0] * len(part)))
        for i, part in enumerate(parts[lost:])
    ]
    remnant = Remnant(mm(jigsaw.width), mm(jigsaw.length), zones, nap=bool(rng.random() < 0.3))
    if effort:
        fitting = fit_pieces(pieces, remnant, ("open",), lambda: [MaxIterations(0)], proof=effort)
        if fitting.answer == "no":
            yield f"fit_pieces: {fitting.tried}"
    problem = remnant.problem(pieces, "open")
    if said := disproof(problem, jigsaw.length, remnant.lost("open")):
        yield f"disproof: {said}"
    if effort:
        lost_zones = [zone.outline for zone in remnant.lost("open")]
        if cannot_lie_within(problem, jigsaw.length + ROUNDING, lost_zones, PLACING * effort):
            yield "cannot_lie_within"


def _zone(part: NDArray[np.float64]) -> Zone:
    (low_x, low_y), (high_x, high_y) = part.min(axis=0), part.max(axis=0)
    return Zone(float(low_x), float(high_x), float(low_y), float(high_y))


def main(arguments: Sequence[str] | None = None) -> None:
    """Cut jigsaws, and say what became of them."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("times", type=int, help="how many jigsaws")
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--effort", type=float, default=0.02, help="of the proofs that take some")
    asked = parser.parse_args(arguments)
    counts: collections.Counter[str] = collections.Counter()
    for number in range(asked.times):
        kind, found = wrong_proofs(asked.seed, number, asked.effort)
        counts[kind] += 1
        if found:
            counts["FAULTS"] += 1
            print(number, kind, *found, sep=" | ", flush=True)
    print(", ".join(f"{count} {what}" for what, count in sorted(counts.items())))
    sys.exit(bool(counts["FAULTS"]))


if __name__ == "__main__":
    main()
