"""Random jobs: odd pieces on odd cloth, seeded, laid in a moment and judged from the pieces and the cloth."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast, get_args

import numpy as np
import shapely

from nesting.cloth.fabric import Fabric
from nesting.cloth.spread import Spread
from nesting.errors import NestingError
from nesting.fit.remnant import Zone, around_faults
from nesting.folds.depth import fold_in_part
from nesting.folds.fold_then_open import fold_then_open
from nesting.problem.lay import lay_mix
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from nesting.verify import Asked, Flaw, verify_asked
from pieces import Piece
from pieces.length import mm
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Notch

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.problem.problem import Problem

SPREADS: tuple[Spread, ...] = get_args(Spread)


@dataclass(frozen=True, eq=False)
class Job:
    """What is asked for, and how long to search."""

    asked: Asked
    rounds: int

    def problem(self) -> tuple[Problem, Asked]:
        """The layout problem; with it what is asked for, the fold's depth settled."""
        asked = self.asked
        if asked.spread == "fold-then-open":
            (pieces, garments), *_ = asked.sets
            return fold_then_open(pieces, asked.fabric, garments=garments, most=1), asked
        if asked.spread == "part-folded":
            (pieces, garments), *_ = asked.sets
            depth, problem = fold_in_part(
                pieces, asked.fabric, garments=garments, waste_twins=asked.waste_twins, most=2
            )
            return problem, Asked(asked.sets, asked.fabric, asked.spread, asked.waste_twins, depth)
        spread = cast("Spread", asked.spread)
        problem = lay_mix(asked.sets, asked.fabric, spread, waste_twins=asked.waste_twins, plies=asked.plies)
        if asked.flaws:
            zones = [Zone(*flaw) for flaw in asked.flaws]
            problem = around_faults(problem, asked.fabric, zones, spread)
        return problem, asked


def random_job(seed: int) -> Job:
    """The job of a seed."""
    rng = np.random.default_rng(seed)
    spread = SPREADS[int(rng.integers(len(SPREADS)))]
    width = float(rng.integers(60, 180)) * 10.0
    selvedge = 0.0 if spread == "tube" else float(rng.choice([0.0, 0.0, 10.0, 12.7]))
    nap = False if spread == "crosswise" else [False, False, True, "by garment"][int(rng.integers(4))]
    one_set = spread in ("fold-then-open", "part-folded")
    along, across = (mm(0), mm(0)) if rng.random() < 0.7 else [mm(rng.choice([0.0, 25.0, 60.0, 76.2])) for _ in "ab"]
    fabric = Fabric(
        "cloth",
        mm(width),
        mm(selvedge),
        nap,  # type: ignore[arg-type]
        mm(float(rng.choice([0.0, 0.0, 3.0, 6.35]))),
        along,
        across,
        shrinkage=(0.0, 0.0) if rng.random() < 0.6 else (float(rng.uniform(0, 12)), float(rng.uniform(0, 6))),
    )
    most = width * (0.3 if spread in ("folded", "tube", "part-folded", "double-folded") else 0.6)
    sets = tuple(
        (tuple(random_pieces(rng, most, f"s{number}")), int(rng.integers(1, 4)))
        for number in range(1 if one_set else int(rng.integers(1, 3)))
    )
    flaws: tuple[Flaw, ...] = ()
    if spread in ("open", "folded", "double-folded") and rng.random() < 0.15 and not (along or across):
        start, low = float(rng.uniform(0, 500)), float(rng.uniform(0, width * 0.8))
        flaws = (Flaw(start, start + 60.0, low, low + float(rng.uniform(5, width * 0.2))),)
    plies = int(rng.integers(1, 4)) * 2
    asked = Asked(sets, fabric, spread, bool(rng.random() < 0.5), None, plies, flaws)
    return Job(asked, int(rng.choice([0, 0, 0, 2])))


def random_pieces(rng: np.random.Generator, most: float, size: str) -> Iterator[Piece]:
    """One to four pieces of a garment, up to `most` mm in size."""
    for number in range(int(rng.integers(1, 5))):
        yield random_piece(rng, most, f"{size} piece {number}")


def random_piece(rng: np.random.Generator, most: float, name: str) -> Piece:
    """A rectangle or a star-shaped outline, whole or a half on a fold, with odd grain and marks."""
    size = float(rng.uniform(0.15, 1.0)) * most
    on_fold = bool(rng.random() < 0.25)
    outline = _half(rng, size) if on_fold else _whole(rng, size)
    if on_fold and rng.random() < 0.5:  # drawn the other way up
        outline = (outline * (1, -1))[::-1]
    ring = np.vstack([outline, outline[:1]])
    edges = tuple(
        Edge(f"e{k}", ring[k : k + 2], 0.0, "fold" if on_fold and _on_axis(ring[k : k + 2]) else "seam")
        for k in range(len(outline))
    )
    pair = bool(rng.random() < 0.5) and not on_fold
    return Piece(
        name,
        edges,
        cut=2 * int(rng.integers(1, 3)) if pair else int(rng.integers(1, 4)),
        mirrored_pair=pair,
        lies="straight" if on_fold else ["straight", "straight", "cross", "free"][int(rng.integers(4))],  # type: ignore[arg-type]
        tilt=0.0 if on_fold or rng.random() < 0.7 else float(rng.choice([1.0, 3.0, 7.0])),
        **_grain_and_marks(rng, outline, size, on_fold=on_fold),  # type: ignore[arg-type]
    )


def _grain_and_marks(rng: np.random.Generator, outline: np.ndarray, size: float, *, on_fold: bool) -> dict[str, object]:
    middle = shapely.Polygon(outline).representative_point()
    at = np.array([middle.x, middle.y])
    angle = math.pi * int(rng.integers(2)) if on_fold else math.radians(float(rng.choice([0, 0, 180, 90, 45, 30, 237])))
    along = np.array([1.0 if angle == 0 else -1.0, 0.0]) if on_fold else np.array([math.cos(angle), math.sin(angle)])
    facts: dict[str, object] = {"grain": (_point(at), _point(at + 0.2 * size * along))}
    if rng.random() < 0.4:
        facts["notches"] = (Notch("n", _point((outline[0] + outline[1]) / 2)),)
    if rng.random() < 0.3:
        facts["drill_points"] = (_point(at),)
    if rng.random() < 0.2:
        facts["inner"] = (InnerLine("line", (_point(at), _point((at + outline[1]) / 2))),)
    if rng.random() < 0.5:
        facts["match"] = _point(outline[0]) if not on_fold else (float(outline[0, 0]), 0.0)
    return facts


def _whole(rng: np.random.Generator, size: float) -> np.ndarray:
    if rng.random() < 0.4:  # rectangles: much that is alike, much that touches
        wide = size * float(rng.uniform(0.1, 1.0))
        return np.array([(0.0, 0.0), (size, 0.0), (size, wide), (0.0, wide)])
    corners = int(rng.integers(3, 9))
    angles = 2 * np.pi * (np.arange(corners) + float(rng.random())) / corners
    radii = size / 2 * rng.uniform(0.4, 1.0, corners)
    return np.column_stack([radii * np.cos(angles), radii * np.sin(angles)])


def _half(rng: np.random.Generator, size: float) -> np.ndarray:
    """A half whose fold lies along y = 0, the cloth above it."""
    heights = size / 2 * rng.uniform(0.3, 1.0, 3)
    return np.array([(0.0, 0.0), (size, 0.0), (size, heights[0]), (size / 2, heights[1]), (0.0, heights[2])])


def _on_axis(edge: np.ndarray) -> bool:
    return bool((edge[:, 1] == 0).all())


def _point(at: np.ndarray) -> tuple[float, float]:
    return float(at[0]), float(at[1])


def try_job(seed: int) -> str:
    """Lay the job of a seed and judge its marker: ``"sound"``, or ``"refused"`` in one line.

    Raises
    ------
    CheckError
        If the program made a marker that does not give what was asked for.
    AssertionError
        If a bound lies above the marker, or a refusal is not one clear line.
    """
    job = random_job(seed)
    try:
        problem, asked = job.problem()
    except NestingError as error:
        assert "\n" not in str(error), f"seed {seed}: {error}"
        assert len(str(error)) < 400, f"seed {seed}: {error}"
        return "refused"
    result = solve(problem, MaxIterations(job.rounds), seed=seed)
    verify_asked(result.marker, asked)
    assert result.bound <= result.marker.length, f"seed {seed}: bound {result.bound}, {result.marker!r}"
    return "sound"
