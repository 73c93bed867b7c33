"""How true pieces are that `trace` reads from photos: rendered photos of drafted pieces, seeded, with the truth beside.

python benchmarks/photos.py [--cases N] [--first SEED] [--pixels MILLIONS] [--keep DIR] [--bare | --mat]
"""

import argparse
import json
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import shapely
import shapely.affinity

sys.path.insert(0, str(Path(__file__).parents[1]))

from pieces.errors import FormatError
from pieces.garments import GARMENTS
from pieces.photo.board import reference_board
from pieces.photo.trace import TraceChoices, trace_photos
from pieces.photo.traced import TracedPiece
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.ask.template import starting_job
from tests.make.photos import Shot, photo

LENSES = {
    "sample": (0.837, (0.0356, -0.0061), (-0.26637, -0.03859, 0.00178, -0.00028, 0.23839)),
    "tutorial": (0.981, (0.0072, 0.0334), (0.09955, -0.20638, 0.00755, 0.00337, 0.0)),
    "car": (0.849, (0.0141, 0.0357), (-0.39943, 0.18892, 0.00015, 0.00057, 0.0)),
    "robot": (0.585, (0.0040, -0.0157), (-0.20831, 0.11342, -0.00035, -0.00002, 0.01372)),
}
"""Lenses of real cameras as calibrated: focal length and centre, in long sides of the picture; k1, k2, p1, p2, k3.

The first two are in Debian's opencv-doc 4.6 (data/left_intrinsics.yml, aruco/tutorial_camera_params.yml); the third is
camera 0 of the CMU Seasons (data.ciirc.cvut.cz, 2020VisualLocalization/Extended-CMU-Seasons/intrinsics.txt); the last
is the left camera of a robot's head (gist.github.com, garaemon/7eb215d3224af632ad70). Calibrations with a k3 of 2 and
more were left out: near the edge of the picture their terms are no lens, and bend it by a seventh.
"""

A4 = (297.0, 210.0)
SQUARE, ROUND = 25.4, 70.0
"""Of the cutting mat: the side of its squares, and how much of it is seen round the piece, mm."""
SHORTEST, LONGEST = 250.0, 800.0
DRAFTED = ("rib-jacket", "shirt", "t-shirt", "gored-skirt", "straight-skirt", "apron", "shorts")
PAPERS = {"white": (225, 230, 232), "cream": (195, 222, 232), "blue": (222, 205, 190), "brown": (120, 160, 190)}
TABLES = {"white": ("wood", "checks", "plain"), "cream": ("wood", "checks", "plain")} | {
    "blue": ("wood", "plain"), "brown": ("checks", "plain"),
}  # fmt: skip


def outlines() -> list[tuple[str, np.ndarray]]:
    """Outlines of drafted pieces that fit on a table beside the sheet."""
    found = []
    for name in DRAFTED:
        for piece in draft_job(parse_job(starting_job(GARMENTS[name]))):
            long = float(np.ptp(piece.cut_line, axis=0).max())
            if SHORTEST <= long <= LONGEST and piece.material != "rib":
                found.append((f"{name} {piece.name}", piece.cut_line))
    return found


def case(seed: int, known: list[tuple[str, np.ndarray]], millions: float) -> tuple[str, np.ndarray, Shot]:
    """A piece on the table, turned as people lay it, and how it is photographed."""
    random = np.random.default_rng(seed)
    name, outline = known[int(random.integers(len(known)))]
    shape = shapely.affinity.rotate(shapely.Polygon(outline), random.uniform(-8, 8))
    if np.diff(np.array(shape.bounds).reshape(2, 2), axis=0)[0] @ (1, -1) < 0:
        shape = shapely.affinity.rotate(shape, 90)
    board = reference_board()
    x0, y0, x1, _ = shape.bounds
    beside = board.size[1] + board.beside + random.uniform(20, 60)
    shape = shapely.affinity.translate(shape, board.size[0] / 2 + random.uniform(-60, 60) - (x0 + x1) / 2, beside - y0)
    paper = str(random.choice(list(PAPERS)))
    long = round((millions * 1e6 * 4 / 3) ** 0.5 / 8) * 8
    lens = "as sent" if seed % 2 else list(LENSES)[seed // 2 % len(LENSES)]
    # Phones straighten what they send: half of the cases are nearly so.
    focal = random.uniform(0.68, 0.95)
    off = tuple(random.uniform(-0.005, 0.005, 2).tolist())
    bent = (random.uniform(-0.08, 0.06), random.uniform(-0.03, 0.03), *random.uniform(-5e-4, 5e-4, 2).tolist(), 0.0)
    if lens in LENSES:
        focal, off, bent = LENSES[lens]
    shot = Shot(
        seed=seed,
        size=(long, long * 3 // 32 * 8),
        turns=(float(random.choice([90, -90])) + random.uniform(-7, 7), *random.uniform(-9, 9, 2).tolist()),
        bent=bent,
        focal=focal,
        off=off,
        noise=random.uniform(2, 6),
        blur=random.uniform(0.4, 1.0),
        light=random.uniform(0.55, 0.9),
        shadow=random.uniform(0.6, 1.0),
        paper=PAPERS[paper],
        table=str(random.choice(TABLES[paper])),
        creases=int(random.integers(0, 6)),
        deep=random.uniform(0.05, 0.25),
    )
    return f"{name}, {paper} on {shot.table}, lens {lens}", shapely.get_coordinates(shape.exterior)[:-1], shot


def apart(truth: np.ndarray, found: np.ndarray) -> np.ndarray:
    """How far points of each outline, a millimetre apart, lie off the other."""
    rings = [shapely.LinearRing(truth), shapely.LinearRing(found)]
    return np.concatenate(
        [shapely.distance(one.interpolate(np.arange(0, one.length, 1.0)), other) for one, other in (rings, rings[::-1])]
    )


def picture(truth: np.ndarray, shot: Shot, by: str) -> np.ndarray:
    """The photo of a case: with the printed sheet, with a bare one in its place, or on a cutting mat."""
    if by == "mat":
        return photo([truth], replace(shot, table="mat", room=ROUND), sheets=())
    return photo([truth], shot) if by == "sheet" else photo([truth], shot, sheets=(), bare=A4)


def off_at_best(truth: np.ndarray, found: np.ndarray, by: str) -> np.ndarray:
    """How far points of each outline lie off the other; by the mat, wherever the first square was taken to be."""
    if by == "sheet":
        return apart(truth, found)
    if by == "bare":  # it may be taken the other way up
        return min((apart(each, found) for each in (truth, np.array(A4) - truth)), key=np.max)
    best = []
    for turn in ([(1, 0), (0, 1)], [(0, 1), (-1, 0)], [(-1, 0), (0, -1)], [(0, -1), (1, 0)]):
        laid = found @ np.array(turn)
        middles = [shapely.get_coordinates(shapely.Polygon(each).centroid) for each in (truth, laid)]
        laid = laid + middles[0] - middles[1]
        for _ in range(3):
            laid = onto(laid, truth)
        best.append(apart(truth, laid))
    return min(best, key=np.max)


def onto(found: np.ndarray, truth: np.ndarray) -> np.ndarray:
    """An outline moved and turned onto another, by the nearest points of it (Kabsch 1976)."""
    ring = shapely.LinearRing(truth)
    here = shapely.get_coordinates(shapely.LinearRing(found).segmentize(5.0))
    there = shapely.get_coordinates(ring.interpolate(ring.project(shapely.points(here))))
    a, b = here - here.mean(axis=0), there - there.mean(axis=0)
    turn = np.arctan2(float((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum()), float((a * b).sum()))
    c, s = np.cos(turn), np.sin(turn)
    return (found - here.mean(axis=0)) @ np.array([(c, s), (-s, c)]) + there.mean(axis=0)


def marks_too_many(piece: TracedPiece) -> int:
    """How many marks were found that are not there: one line is drawn on the paper."""
    kinds = [mark.kind for mark in piece.marks if mark.kind != "crease"]
    lines = sum(kind in ("inner line", "grain") for kind in kinds)
    return len(kinds) - lines + max(0, lines - 1)


def asked() -> argparse.Namespace:
    """What the command line asks for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=100)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--pixels", type=float, default=12.0)
    parser.add_argument("--keep", type=Path)
    for by, what in (("bare", "by a bare sheet of A4"), ("mat", "by the squares of a cutting mat")):
        parser.add_argument(f"--{by}", action="store_const", const=by, dest="by", default="sheet", help=what)
    return parser.parse_args()


def main() -> None:
    """Run the cases, a line each, and what they come to."""
    args = asked()
    cv2.setNumThreads(1)
    known, told, invented = outlines(), [], 0
    choices = TraceChoices(bare=A4 if args.by == "bare" else None, mat=SQUARE if args.by == "mat" else None)
    print(f"{len(known)} outlines; mm: median, 95 %, worst, worst foreseen; area %; processor s")
    for seed in range(args.first, args.first + args.cases):
        name, truth, shot = case(seed, known, args.pixels)
        with tempfile.TemporaryDirectory() as folder:
            path = (args.keep or Path(folder)) / f"photo-{seed}.jpg"
            quality = int(np.random.default_rng(seed).integers(85, 96))
            cv2.imwrite(str(path), picture(truth, shot, args.by), [cv2.IMWRITE_JPEG_QUALITY, quality])
            start = time.process_time()
            try:
                _, _, (seen,) = trace_photos([path], choices)
            except FormatError as error:
                print(f"{seed:3} refused: {name}: {error}", flush=True)
                continue
        spent = time.process_time() - start
        if len(seen.pieces) != 1:
            print(f"{seed:3} {len(seen.pieces)} pieces: {name}", flush=True)
        piece = seen.pieces[0]
        off = off_at_best(truth, piece.outline.points, args.by)
        invented += marks_too_many(piece)
        area = 100 * (shapely.Polygon(piece.outline.points).area / shapely.Polygon(truth).area - 1)
        row = [*np.percentile(off, [50, 95, 100]).tolist(), piece.worst, area, spent]
        told.append(row)
        print(f"{seed:3} " + " ".join(f"{value:6.2f}" for value in row) + f"  {name}", flush=True)
    if not told:
        return
    table = np.array(told)
    print(
        json.dumps(
            {
                "cases": args.cases,
                "read": len(told),
                "median_mm": float(np.median(table[:, 0])),
                "worst_median_mm": float(table[:, 0].max()),
                "worst_mm": float(table[:, 2].max()),
                "within_2_mm": int((table[:, 2] <= 2).sum()),
                "within_foreseen": int((table[:, 2] <= table[:, 3]).sum()),
                "worst_area_percent": float(np.abs(table[:, 4]).max()),
                "marks_invented": invented,
                "most_seconds": float(table[:, 5].max()),
            }
        )
    )


if __name__ == "__main__":
    main()
