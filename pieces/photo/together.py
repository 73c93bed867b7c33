"""Several photos of one table, joined over the sheets that they share: all cameras and sheets at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from pieces.errors import FormatError
from pieces.photo.camera import (
    BOW,
    LEAST_NOISE,
    LENS,
    Camera,
    by_height,
    find_camera,
    fitted_values,
    projected,
    usual_lens,
)
from pieces.photo.look import SeenPhoto

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.photo.sheet import SeenSheet

    Floats = NDArray[np.float64]
    Pixels = NDArray[np.uint8]

CAMERA, POSE = LENS + 6, 3
"""Values of a camera, and of a sheet's place on the table: where it lies, and how it is turned."""

ROUNDS = 4

FAR_OFF = 4.0
"""A corner that is missed by so many deviations is not believed."""

MOST_MISSED = 0.25
"""Corners of flat sheets that lie still are missed by no more, mm, root mean square, when all are joined: by rendered
photos 0.02; one that is moved by 8 mm between two photos 0.45, as cameras give way (`test_together.py`)."""

MOST_BOWED = 50.0
"""So far may the sum of squares fall, in deviations, where a sheet is allowed to rise: see `benchmarks/README.md`."""

MOST_KEPT_OFF = 0.5
"""Of the corners of a sheet so many must fit the joined table."""

GRID = 20.0
"""Photos are held against one another in points of the table so far apart, mm."""

LEAST_OVERLAP = 30
"""In fewer points nothing is said of their brightness."""


@dataclass(frozen=True, eq=False)
class SeenTable:
    """A photo, and the sheets in it."""

    name: str
    size: tuple[int, int]
    sheets: tuple[SeenSheet, ...]


@dataclass(frozen=True, eq=False)
class JoinedTable:
    """The cameras of all photos, and the paper of all sheets, in the frame of one sheet.

    Parameters
    ----------
    scale_doubt
        How far all lengths may be off by what the photo is measured by, in shares of one.
    letters
        Of the sheets in each photo, the one that is seen best first.
    """

    cameras: tuple[Camera, ...]
    papers: tuple[Floats, ...] = ()
    scale_doubt: float = 0.0
    letters: tuple[tuple[str, ...], ...] = ()


def join_tables(tables: Sequence[SeenTable]) -> JoinedTable:
    """Where each photo was taken from, and where each sheet lies, by all corners that are seen, with the least squares.

    Raises
    ------
    FormatError
        If photos share no sheet, or sheets do not lie alike in all of them: what to do about it.
    """
    start = _started(tables)
    letters = sorted(start.poses)
    base = start.base
    movable = [letter for letter in letters if letter != base]
    values = np.concatenate([*start.cameras, *(start.poses[letter] for letter in movable)])
    noise = np.ones(len(tables))
    kept = [{sheet.board.letter: np.ones(len(sheet.places), bool) for sheet in table.sheets} for table in tables]
    spread = np.eye(len(values))
    for _ in range(ROUNDS):
        problem = _Problem(tables, movable, kept, noise)
        values, spread = fitted_values(values, problem.residuals)
        for n, table in enumerate(tables):
            off = {s.board.letter: np.hypot(*problem.missed(values, n, s).T) for s in table.sheets}
            inside = np.concatenate([off[letter][kept[n][letter]] for letter in off])
            noise[n] = max(LEAST_NOISE, float(np.median(inside)) / 1.1774)  # the median of a Rayleigh distribution
            kept[n] = {letter: each <= FAR_OFF * noise[n] for letter, each in off.items()}
    _refuse_moved(tables, problem, values, kept)
    _refuse_bowed(tables, problem, values, spread)
    bows = problem.bows(values, spread)
    cameras = []
    for n, table in enumerate(tables):
        off_all = np.concatenate(
            [np.hypot(*problem.missed(values, n, s).T)[kept[n][s.board.letter]] for s in table.sheets]
        )
        at = slice(CAMERA * n, CAMERA * (n + 1))
        rms = float(np.sqrt(np.mean(off_all**2) / 2))
        cameras.append(Camera(values[at], spread[at, at], rms, tuple(bow[at] for bow in bows)))
    papers = []
    for letter in letters:
        board = next(s.board for table in tables for s in table.sheets if s.board.letter == letter)
        papers.append(placed(board.paper(), _pose(values, letter, movable, len(tables))))
    own = tuple(tuple(sheet.board.letter for sheet in table.sheets) for table in tables)
    return JoinedTable(tuple(cameras), tuple(papers), letters=own)


def _refuse_moved(
    tables: Sequence[SeenTable], problem: _Problem, values: Floats, kept: Sequence[dict[str, NDArray[np.bool_]]]
) -> None:
    """Refuse sheets that do not lie in one plane, or not alike in all photos: each fits by itself, and not together."""
    worst: tuple[float, int, str] = (0.0, 0, "")
    for n, table in enumerate(tables):
        for sheet in table.sheets:
            off = problem.missed(values, n, sheet)
            camera, points = problem.shown(values, n, sheet)
            fine = np.median(Camera(camera, np.eye(CAMERA), 0.0).fineness(points))
            missed = float(np.sqrt(np.mean(off**2)) / fine)
            is_lost = kept[n][sheet.board.letter].mean() < MOST_KEPT_OFF
            worst = max(worst, (np.inf if is_lost else missed, n, sheet.board.letter))
    missed, n, letter = worst
    if missed <= MOST_MISSED:
        return
    if len(tables) == 1:
        raise FormatError(
            f"{tables[0].name}: sheet {letter} does not lie in one plane with the others, or is printed at another"
            " size: lay all sheets flat on the same table, and print them in one go at 100 %"
        )
    others = joined_names([table.name for m, table in enumerate(tables) if m != n and letter in _letters(table)])
    raise FormatError(
        f"{tables[n].name}: sheet {letter} lies otherwise than in {others or 'the other photos'}: leave all sheets and"
        " the pattern where they are until the last photo is taken, and take all of them again"
    )


def _refuse_bowed(tables: Sequence[SeenTable], problem: _Problem, values: Floats, spread: Floats) -> None:
    """Refuse sheets that rise over the table: where they are allowed to, the corners are missed by far less."""
    off, slope = problem.residuals(values)
    for letter, lifted in problem.lifted(values).items():
        own = lifted - slope @ (spread @ (slope.T @ lifted))  # what no camera explains
        high = np.linalg.lstsq(own, off, rcond=None)[0]
        if float(off @ own @ high) > MOST_BOWED:
            names = joined_names([table.name for table in tables if letter in _letters(table)])
            raise FormatError(
                f"{names}: sheet {letter} does not lie flat: it rises by about {np.abs(high).max():.1f} mm: lay it"
                " on a hard table, tape it down at all four sides, and take the photo again"
            )


def _letters(table: SeenTable) -> list[str]:
    return sorted(sheet.board.letter for sheet in table.sheets)


def joined_names(names: Sequence[str]) -> str:
    """Names as people list them."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}" if names else ""


def placed(points: Floats, pose: Floats) -> Floats:
    """Points of a sheet on the table."""
    c, s = np.cos(pose[2]), np.sin(pose[2])
    found: Floats = points @ np.array([(c, s), (-s, c)]) + pose[:2]
    return found


def _pose(values: Floats, letter: str, movable: Sequence[str], photos: int) -> Floats:
    if letter not in movable:
        return np.zeros(POSE)
    at = CAMERA * photos + POSE * movable.index(letter)
    return values[at : at + POSE]


class _Problem:
    """What is missed by given cameras and places, in deviations, and how that follows each value."""

    def __init__(
        self,
        tables: Sequence[SeenTable],
        movable: Sequence[str],
        kept: Sequence[dict[str, NDArray[np.bool_]]],
        noise: Floats,
    ) -> None:
        self.tables, self.movable, self.kept, self.noise = tables, movable, kept, noise

    def missed(self, values: Floats, number: int, sheet: SeenSheet) -> Floats:
        """By how much the corners of a sheet are missed in a photo, pixels."""
        return projected(*self.shown(values, number, sheet))[0] - sheet.pixels

    def shown(self, values: Floats, number: int, sheet: SeenSheet) -> tuple[Floats, Floats]:
        """The camera of a photo, and where the corners of a sheet in it lie on the table."""
        pose = _pose(values, sheet.board.letter, self.movable, len(self.tables))
        return values[CAMERA * number : CAMERA * (number + 1)], placed(sheet.places, pose)

    def residuals(self, values: Floats) -> tuple[Floats, Floats]:
        """All of them as one column, and the slope of each."""
        off, slopes = [], []
        for n, table in enumerate(self.tables):
            at = slice(CAMERA * n, CAMERA * (n + 1))
            for sheet in table.sheets:
                letter = sheet.board.letter
                is_kept = self.kept[n][letter]
                pose = _pose(values, letter, self.movable, len(self.tables))
                points = placed(sheet.places[is_kept], pose)
                seen, by_camera = projected(values[at], points)
                slope = np.zeros((2 * len(points), len(values)))
                slope[:, at] = by_camera
                if letter in self.movable:
                    first = CAMERA * len(self.tables) + POSE * self.movable.index(letter)
                    slope[:, first : first + POSE] = _by_pose(values[at], points, pose)
                off.append((sheet.pixels[is_kept] - seen).ravel() / self.noise[n])
                slopes.append(slope / self.noise[n])
            usual, loose = usual_lens(table.size)
            lens = np.zeros((len(usual), len(values)))
            lens[np.arange(len(usual)), CAMERA * n + np.arange(len(usual))] = 1 / loose
            off.append((usual - values[at][: len(usual)]) / loose)
            slopes.append(lens)
        return np.concatenate(off), np.vstack(slopes)

    def lifted(self, values: Floats) -> dict[str, Floats]:
        """How all residuals follow each way in which a sheet may rise over the table, a mm: shape (residuals, 3).

        It may be bowed along one side or the other, or twisted.
        """
        found = {}
        for letter in sorted({sheet.board.letter for table in self.tables for sheet in table.sheets}):
            moved = []
            for n, table in enumerate(self.tables):
                for sheet in table.sheets:
                    is_kept = self.kept[n][sheet.board.letter]
                    camera, points = self.shown(values, n, sheet)
                    far = 2 * sheet.places[is_kept] / sheet.board.size - 1
                    high = np.column_stack([1 - far[:, 0] ** 2, 1 - far[:, 1] ** 2, far[:, 0] * far[:, 1]])
                    up = by_height(camera, points[is_kept])[:, :, None] * high[:, None] / self.noise[n]
                    moved.append(up.reshape(-1, 3) * (sheet.board.letter == letter))
                moved.append(np.zeros((LENS, 3)))
            found[letter] = np.vstack(moved)
        return found

    def bows(self, values: Floats, spread: Floats) -> list[Floats]:
        """By how much all values are off for each way in which a sheet may rise over the table, each by `BOW`."""
        _, slope = self.residuals(values)
        return [BOW * np.asarray(spread @ (slope.T @ way)) for each in self.lifted(values).values() for way in each.T]


def _by_pose(camera: Floats, points: Floats, pose: Floats) -> Floats:
    """How pixels follow the place of the sheet that their points lie on, shape (2 n, 3)."""
    x, y = ((projected(camera, points + by)[0] - projected(camera, points - by)[0]) for by in ((0.5, 0.0), (0.0, 0.5)))
    from_middle = points - pose[:2]
    turned = -from_middle[:, 1:] * x + from_middle[:, :1] * y
    return np.stack([x, y, turned], axis=-1).reshape(-1, POSE)


@dataclass(frozen=True, eq=False)
class _Start:
    """Where to begin: each camera by itself, from sheet to sheet."""

    base: str
    cameras: list[Floats]
    poses: dict[str, Floats]


def _started(tables: Sequence[SeenTable]) -> _Start:
    seen = [sheet.board.letter for table in tables for sheet in table.sheets]
    base = min(set(seen), key=lambda letter: (-seen.count(letter), letter))
    poses: dict[str, Floats] = {base: np.zeros(POSE)}
    cameras: dict[int, Camera] = {}
    while len(cameras) < len(tables):
        n = next(
            (n for n, t in enumerate(tables) if n not in cameras and any(s.board.letter in poses for s in t.sheets)),
            None,
        )
        if n is None:
            lost = next(table for n, table in enumerate(tables) if n not in cameras)
            others = "; ".join(f"{table.name} shows {_shown(table)}" for table in tables if table is not lost)
            raise FormatError(
                f"{lost.name} shows no sheet that the other photos show: it shows {_shown(lost)}; {others}. Lay two"
                " sheets or more on the table, A and B, and leave them where they are; each photo needs one whole sheet"
                " that another photo shows as well"
            )
        known = [sheet for sheet in tables[n].sheets if sheet.board.letter in poses]
        points = np.vstack([placed(sheet.places, poses[sheet.board.letter]) for sheet in known])
        cameras[n], _ = find_camera(points, np.vstack([sheet.pixels for sheet in known]), tables[n].size)
        for sheet in tables[n].sheets:
            if sheet.board.letter not in poses:
                poses[sheet.board.letter] = _lying(sheet.places, cameras[n].on_table(sheet.pixels))
    return _Start(base, [cameras[n].values for n in range(len(tables))], poses)


def _shown(table: SeenTable) -> str:
    letters = _letters(table)
    return f"sheet{'s' * (len(letters) > 1)} {joined_names(letters)}"


def _lying(places: Floats, table: Floats) -> Floats:
    """Where a sheet lies, by its corners on the table (Kabsch 1976)."""
    a, b = places - places.mean(axis=0), table - table.mean(axis=0)
    turn = float(np.arctan2(float((a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum()), float((a * b).sum())))
    pose = np.array([0.0, 0.0, turn])
    pose[:2] = table.mean(axis=0) - placed(places.mean(axis=0)[None], pose)[0]
    return pose


def evened(looks: Sequence[SeenPhoto]) -> tuple[SeenPhoto, ...]:
    """Photos made as bright as the first, by what two of them see of the same table."""
    places = np.vstack([_rim(look) for look in looks])
    low, high = places.min(axis=0), places.max(axis=0)
    x, y = np.meshgrid(np.arange(low[0], high[0], GRID), np.arange(low[1], high[1], GRID), indexing="ij")
    points = np.column_stack([x.ravel(), y.ravel()])
    colours, within = [], []
    for look in looks:
        at = look.pixels(points)
        within.append(look.central(at) > 0.02)
        colours.append(np.asarray(look.colours(at.astype(np.float32)[None])[0], dtype=np.float64))
    gains = {0: np.ones(3)}
    while len(gains) < len(looks):
        pairs = [(int((within[n] & within[m]).sum()), n, m) for n in range(len(looks)) if n not in gains for m in gains]
        many, n, m = max(pairs)
        both = within[n] & within[m]
        enough = many >= LEAST_OVERLAP
        gains[n] = (
            np.median(colours[m][both] * gains[m] / np.maximum(colours[n][both], 1), axis=0) if enough else gains[m]
        )
    return tuple(SeenPhoto(look.photo, look.camera, np.clip(gains[n], 0.3, 3.0)) for n, look in enumerate(looks))


def _rim(look: SeenPhoto) -> Floats:
    """Places of the corners of a picture on the table, no further off than its middle is long."""
    high, wide = look.photo.shape[:2]
    corners = np.array([(0.0, 0.0), (wide - 1, 0), (wide - 1, high - 1), (0, high - 1)])
    found = look.camera.on_table(corners)
    return found[np.isfinite(found).all(axis=1)]
