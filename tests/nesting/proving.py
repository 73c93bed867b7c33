"""Jigsaws into proofs: cloth of known length cut to pieces at random, which no proof may say do not fit on it.

By hand: ``python -m tests.nesting.proving 20000 --seed 1``; the same seed makes the same jigsaws.
"""

from __future__ import annotations

import argparse
import collections
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import shapely
from shapely.ops import split

from nesting import Fabric, Problem, lay_pieces, lower_bound
from nesting.crossings import cannot_lie_within
from nesting.exact import solve_exact
from nesting.fitting import SLACK, disproof, fit_pieces
from nesting.remnant import Remnant, Zone
from nesting.slices import slice_bound
from nesting.stop import MaxIterations
from nesting.stretches import fold_then_open
from pieces import Piece
from tests.pieces.outlines import sides

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from numpy.typing import NDArray

LEAST_SHARE, MOST_CUTS = 0.01, 8
"""Share of the cloth that the least part has, and cuts at the most."""

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


def cut_at_random(rng: np.random.Generator, *, straight: bool = False) -> Jigsaw:
    """Cloth cut up: across and along from edge to edge, aslant, or in a bent line that leaves hollow parts.

    Parameters
    ----------
    straight
        Only across and along, so that all parts are rectangles.
    """
    length, width = np.round(rng.uniform(100, 900, 2), int(rng.integers(0, 4))).tolist()
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


def proofs_of(problem: Problem, effort: float) -> Iterator[tuple[str, float]]:
    """Each length that is said to be needed, with what says so."""
    yield "lower_bound", lower_bound(problem)[0]
    if effort and not problem.stretches:
        yield "slice_bound", slice_bound(problem, effort)[0]
        if problem.num_placements <= 6 and (exact := solve_exact(problem, effort=effort)):
            yield "solve_exact", exact.bound


def wrong_proofs(seed: int, number: int, effort: float = 0.02) -> tuple[str, list[str]]:
    """Cut one jigsaw and ask every proof that may be asked of it: its kind, and those that go too far.

    Parameters
    ----------
    effort
        For proofs by CP-SAT, which get it in one case of eight.
    """
    rng = np.random.default_rng((seed, number))
    kind = ("plain", "folded", "remnant")[number % 3]
    effort = effort if rng.random() < 1 / 8 else 0.0
    if kind == "remnant":
        return kind, list(_wrong_on_remnant(rng, effort))
    jigsaw = cut_at_random(rng, straight=rng.random() < 0.3)
    found: list[str] = []
    problems = {"strip": plain_problem(rng, jigsaw)} if kind == "plain" else _laid_double(rng, jigsaw)
    for name, problem in problems.items():
        found += [
            f"{name}, {proof}: {length!r} of {jigsaw.length!r}"
            for proof, length in proofs_of(problem, effort)
            if length > jigsaw.length + ROUNDING
        ]
        if not problem.stretches:
            if said := disproof(problem, jigsaw.length, ()):
                found.append(f"{name}, disproof: {said}")
            if effort and cannot_lie_within(problem, jigsaw.length + SLACK, (), effort, (7, 16)):
                found.append(f"{name}, cannot_lie_within")
    return kind, found


def _laid_double(rng: np.random.Generator, jigsaw: Jigsaw) -> dict[str, Problem]:
    """The parts on cloth folded at the jigsaw's lower edge, and on the same cloth opened out."""
    pieces, fabric = on_fold(jigsaw), Fabric("cloth", 2 * jigsaw.width, nap=bool(rng.random() < 0.3))
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
    remnant = Remnant(jigsaw.width, jigsaw.length, zones, nap=bool(rng.random() < 0.3))
    if effort:
        fitting = fit_pieces(pieces, remnant, ("open",), lambda: [MaxIterations(0)], proof=effort)
        if fitting.answer == "no":
            yield f"fit_pieces: {fitting.tried}"
    problem = remnant.problem(pieces, "open")
    if said := disproof(problem, jigsaw.length, remnant.lost("open")):
        yield f"disproof: {said}"


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
