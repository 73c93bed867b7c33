"""Photos of paper patterns beside the reference sheet, rendered: camera, lens, light, shadow, creases, table, noise."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, Any

import cv2
import numpy as np

from pieces.photo.board import reference_boards

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    from pieces.photo.board import CodedBoard

    Floats = NDArray[np.float64]
    Pixels = NDArray[np.uint8]

FINE = 6
"""Pixels of the table's own picture to a millimetre; for a quick photo fewer."""


@dataclass(frozen=True)
class Shot:
    """How a photo is taken.

    Parameters
    ----------
    size
        Width and height, pixels.
    turns
        Of the camera: round the vertical, and how far it leans along and across, degrees.
    bent
        Two radial terms of its lens, two by which the lens is not quite straight, and a third radial term.
    focal
        In long sides of the picture.
    off
        How far its centre lies off that of the picture, in long sides.
    noise, blur
        Steps of 255, and pixels; `light` is how much of it is left in the corners, `shadow` across a band.
    """

    seed: int = 0
    size: tuple[int, int] = (4000, 3000)
    turns: tuple[float, float, float] = (93.0, 4.0, -5.0)
    bent: tuple[float, float, float, float, float] = (0.03, -0.02, 0.0, 0.0, 0.0)
    focal: float = 0.74
    off: tuple[float, float] = (0.003, -0.002)
    noise: float = 3.0
    blur: float = 0.6
    light: float = 0.7
    shadow: float = 0.75
    brightness: float = 1.0
    paper: tuple[int, int, int] = (205, 222, 228)
    table: str = "wood"
    creases: int = 4
    deep: float = 0.07
    """By which share a crease is darker than the paper; on its other side the paper is brighter."""
    room: float = 45.0
    """Between the outermost of what lies there and the picture's edge, mm."""


@dataclass(frozen=True)
class Drawn:
    """What is drawn on the paper: a line, or words that begin at its first point.

    Parameters
    ----------
    points
        Shape (n, 2), mm, in the frame of the board.
    wide
        Of the pen, mm; `dash` and the gap after it, for a line of dashes; `words` are `high`.
    """

    points: Floats
    wide: float = 0.5
    colour: tuple[int, int, int] = (60, 60, 60)
    dash: tuple[float, float] | None = None
    words: str = ""
    high: float = 8.0


QUICK = Shot(size=(2000, 1504), turns=(92.0, 4.0, -5.0), table="checks")

TURNS = np.linspace(np.pi, 1.5 * np.pi, 40)
ARMHOLE = np.column_stack([300 + 80 * np.cos(TURNS), 520 + 90 * np.sin(TURNS)])[::-1]
PIECE = np.array([(-100.0, 240.0), (300.0, 240.0), *ARMHOLE.tolist(), (220.0, 520.0), (-100.0, 500.0)])
"""A piece that is unlike its image in a mirror, with a hollow curve."""


GRAINLINE = np.array([(-60.0, 0.0), (60.0, 0.0)])
"""Drawn on each piece where nothing else is asked for, about the middle of its points."""


Pose = tuple[float, float, float]
"""Where a sheet lies, mm, and how it is turned, degrees."""


def photo(
    pieces: list[Floats],
    shot: Shot,
    drawn: list[Drawn] | None = None,
    sheets: tuple[Pose, ...] = ((0.0, 0.0, 0.0),),
    seen: Floats | None = None,
    bare: tuple[float, float] | None = None,
) -> Pixels:
    """A photo of pieces, in the frame of the board on sheet A.

    Parameters
    ----------
    drawn
        What is on whichever piece it lies.
    sheets
        Where sheets A, B and so on lie.
    seen
        Points that are in the picture, if not everything is.
    bare
        Sides of a bare sheet of paper, whose corner lies in (0, 0); mm.
    """
    random = np.random.default_rng(shot.seed)
    papers = [_turn(board.paper(), pose) for board, pose in zip(reference_boards(), sheets, strict=False)]
    everything = np.vstack([*pieces, *papers, *([] if bare is None else [np.array([(0.0, 0.0), bare])])])
    low, high = everything.min(axis=0) - 250, everything.max(axis=0) + 250
    fine = FINE if shot.size[0] > 3000 else 4
    canvas = _table(low, high, fine, shot, random)
    _lay_pieces(canvas, pieces, low, fine, shot, random, drawn)
    for board, pose in zip(reference_boards(), sheets, strict=False):
        _lay_sheet(canvas, low, fine, board, pose)
    if bare is not None:
        (a, b), (c, d) = np.rint((np.array([(0.0, 0.0), bare]) - low) * fine).astype(int)
        canvas[a:c, b:d] = 235
    cv2.GaussianBlur(canvas, (0, 0), 1.0, canvas)  # the camera's pixels are larger than the table's
    return _taken(canvas, everything if seen is None else seen, low, fine, shot, random)


def _turn(points: Floats, pose: Pose) -> Floats:
    c, s = np.cos(np.radians(pose[2])), np.sin(np.radians(pose[2]))
    return np.asarray(points @ np.array([(c, s), (-s, c)]) + pose[:2])


def _pixels(points: Floats, low: Floats, fine: int) -> Floats:
    """Where points, mm, are on the table's picture: column for y, row for x."""
    return (points - low)[:, ::-1] * fine - 0.5


def _table(low: Floats, high: Floats, fine: int, shot: Shot, random: np.random.Generator) -> Pixels:
    long, wide = np.ceil(high - low).astype(int)
    x, y = np.meshgrid(np.arange(long, dtype=np.float32), np.arange(wide, dtype=np.float32), indexing="ij")
    grain = cv2.resize(random.normal(size=(long // 60 + 2, wide // 3 + 2)).astype(np.float32), (wide, long))
    if shot.table == "wood":
        level = 0.5 + 0.25 * grain + 0.12 * np.sin(y / 17 + 2 * np.sin(x / 190))
        colours = np.array([(40, 70, 105), (75, 115, 160)])
    elif shot.table == "checks":
        level = ((x // 35).astype(int) % 2 + (y // 35).astype(int) % 2) / 2 + 0.05 * grain
        colours = np.array([(60, 45, 40), (150, 100, 80)])
    elif shot.table == "mat":  # squares of an inch
        down, over = (
            np.clip((0.3 - np.abs((np.arange(many * fine) / fine + first + 12.7) % 25.4 - 12.7)) * fine + 0.5, 0, 1)
            for many, first in ((long, low[0]), (wide, low[1]))
        )
        large = np.maximum.outer(down, over)[..., None]
        return np.asarray((1 - large) * (70, 95, 45) + large * (150, 195, 185)).astype(np.uint8)
    else:
        level = 0.5 + 0.1 * grain
        colours = np.array([(60, 90, 50), (70, 105, 60)])
    level = np.clip(level, 0, 1)[..., None]
    small = colours[0] * (1 - level) + colours[1] * level
    return np.asarray(cv2.resize(small.astype(np.uint8), (wide * fine, long * fine), interpolation=cv2.INTER_LINEAR))


def _lay_pieces(
    canvas: Pixels,
    pieces: list[Floats],
    low: Floats,
    fine: int,
    shot: Shot,
    random: np.random.Generator,
    drawn: list[Drawn] | None,
) -> None:
    """Paper with a soft shadow at its edge, creases across it, and what is drawn on it."""
    for outline in pieces:
        rim = 8.0
        (x0, y0), (x1, y1) = np.floor(outline.min(axis=0) - rim), np.ceil(outline.max(axis=0) + rim)
        first = np.rint((np.array([x0, y0]) - low) * fine).astype(int)
        mask = np.zeros((int(x1 - x0) * fine, int(y1 - y0) * fine), np.uint8)
        own = low + first / fine
        _fill(mask, _pixels(outline, own, fine))
        room = canvas[first[0] : first[0] + mask.shape[0], first[1] : first[1] + mask.shape[1]]
        soft: Any = cv2.GaussianBlur(mask, (0, 0), 1.5 * fine)
        dark = 1 - 0.35 / 255 * np.roll(np.asarray(soft), (fine // 2, fine // 2), (0, 1)).astype(np.float32)
        paper = np.full((*mask.shape, 3), shot.paper, np.uint8)
        if shot.creases:
            paper = _creased(paper, np.array([(x0, y0), (x1, y1)]), own, fine, shot, random)
        for each in [Drawn(outline.mean(axis=0) + GRAINLINE)] if drawn is None else drawn:
            _draw(paper, each, own, fine)
        share = mask.astype(np.float32) / 255
        room[:] = cv2.blendLinear(
            paper, cv2.merge([cv2.multiply(room[..., n], dark, dtype=0) for n in range(3)]), share, 1 - share
        )


def _creased(paper: Pixels, box: Floats, low: Floats, fine: int, shot: Shot, random: np.random.Generator) -> Pixels:
    """Paper with creases across it: dark on the side away from the light, bright on the other, and soft."""
    light = np.ones(paper.shape[:2], np.float32)
    for _ in range(shot.creases):
        ends = np.array([(random.uniform(*box[:, 0]), box[0, 1]), (random.uniform(*box[:, 0]), box[1, 1])])
        a, b = _pixels(ends, low, fine).astype(int).tolist()
        cv2.line(light, a, b, 1 - shot.deep, 2 * fine)
        cv2.line(light, [a[0], a[1] + 2 * fine], [b[0], b[1] + 2 * fine], 1 + 0.7 * shot.deep, 2 * fine)
    soft: Any = cv2.GaussianBlur(light, (0, 0), 0.5 * fine)
    lit: Any = cv2.merge([cv2.multiply(paper[..., n], np.asarray(soft), dtype=cv2.CV_8U) for n in range(3)])
    return np.asarray(lit)


def _draw(paper: Pixels, each: Drawn, low: Floats, fine: int) -> None:
    """A line of a pen, or words."""
    thick = max(1, round(each.wide * fine))
    at = np.rint(_pixels(each.points, low, fine) * 16).astype(np.int32)
    if each.words:
        x, y = (at[0] // 16).tolist()
        size = each.high * fine / 22
        cv2.putText(paper, each.words, (x, y), cv2.FONT_HERSHEY_SIMPLEX, size, each.colour, thick, cv2.LINE_AA)
    elif each.dash is None:
        cv2.polylines(paper, [at], False, each.colour, thick, cv2.LINE_AA, 4)
    else:
        way = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(each.points, axis=0).T))])
        for start in np.arange(0, way[-1], sum(each.dash)):
            steps = np.linspace(start, min(start + each.dash[0], way[-1]), 8)
            dash = np.column_stack([np.interp(steps, way, column) for column in each.points.T])
            at = np.rint(_pixels(dash, low, fine) * 16).astype(np.int32)
            cv2.polylines(paper, [at], False, each.colour, thick, cv2.LINE_AA, 4)


def _fill(mask: Pixels, points: Floats) -> None:
    """Fill an outline by whole pixels of a grid four times as fine, so that its edge lies where it should."""
    (x0, y0), (x1, y1) = np.floor(points.min(axis=0)).astype(int), np.ceil(points.max(axis=0)).astype(int) + 1
    times = 4
    large = np.zeros(((y1 - y0) * times, (x1 - x0) * times), np.uint8)
    shifted = (points - (x0, y0) + 0.5) * times - 0.5
    cv2.fillPoly(large, [np.rint(shifted * 16).astype(np.int32)], 255, cv2.LINE_8, 4)
    small: Any = cv2.resize(large, (x1 - x0, y1 - y0), interpolation=cv2.INTER_AREA)
    room = mask[y0:y1, x0:x1]
    room[:] = np.maximum(room, np.asarray(small))


def _lay_sheet(canvas: Pixels, low: Floats, fine: int, board: CodedBoard, pose: Pose) -> None:
    """The sheet on A4: white, the board 12 mm below its upper edge, and a line below."""
    long, wide = board.size
    top = np.full((int(long + 57) * 10, int(wide + 30) * 10), 235, np.uint8)  # from (-12, -15) on
    for x0, y0, x1, y1 in board.black():
        a, b, c, d = (round(10 * v) for v in (x0 + 12, y0 + 15, x1 + 12, y1 + 15))
        top[a:c, b:d] = 35
    a, b, c, d = (round(10 * v) for v in (long + 20, 20, long + 20.6, wide + 10))
    top[a:c, b:d] = 35
    small: Any = cv2.resize(top, (int((wide + 30) * fine), int((long + 57) * fine)), interpolation=cv2.INTER_AREA)
    x, y = np.rint((_turn(np.array([(-12.0, -15.0)]), pose)[0] - low) * fine).astype(int)
    if pose[2] == 0:
        canvas[x : x + small.shape[0], y : y + small.shape[1]] = np.asarray(small)[..., None]
        return
    corners = np.array([(-12.0, -15.0), (-12.0, wide + 15), (long + 45, -15.0)])
    source = (corners + (12, 15))[:, ::-1] * fine - 0.5
    matrix = cv2.getAffineTransform(
        source.astype(np.float32), _pixels(_turn(corners, pose), low, fine).astype(np.float32)
    )
    size = (canvas.shape[1], canvas.shape[0])
    cv2.warpAffine(
        cv2.merge([small] * 3), matrix, size, canvas, flags=cv2.INTER_LINEAR, borderMode=cv2.BORDER_TRANSPARENT
    )


def _taken(
    canvas: Pixels, everything: Floats, low: Floats, fine: int, shot: Shot, random: np.random.Generator
) -> Pixels:
    """The table as the camera sees it."""
    width, height = shot.size
    long = max(shot.size)
    focal, centre = shot.focal * long, (np.array(shot.size) - 1) / 2 + np.array(shot.off) * long
    turn = _turned(shot.turns)
    middle = (everything.max(axis=0) + everything.min(axis=0)) / 2
    away = _distance(everything, middle, turn, focal, shot)
    place = np.array([0.0, 0.0, away]) - turn @ np.array([*middle, 0.0])
    u, v = np.meshgrid(np.arange(3.5, width, 8), np.arange(3.5, height, 8))  # the middles of eight pixels
    bent = np.array(shot.bent)
    pixels = np.stack([u, v], axis=-1).reshape(-1, 2)
    rays = _straight((pixels - centre) / focal, bent)
    rays = np.column_stack([rays, np.ones(len(rays))]) @ turn
    eye = -turn.T @ place
    far = -eye[2] / rays[:, 2]
    table = _pixels(eye[:2] + far[:, None] * rays[:, :2], low, fine).reshape(*u.shape, 2).astype(np.float32)
    at: Any = cv2.resize(table, (width, height), interpolation=cv2.INTER_LINEAR)
    seen: Any = cv2.remap(canvas, at[..., 0], at[..., 1], cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    radius = ((u - width / 2) ** 2 + (v - height / 2) ** 2) / ((width / 2) ** 2 + (height / 2) ** 2)
    band = np.abs(u / width + 0.4 * v / height - random.uniform(0.3, 0.9)) - 0.12
    light = (1 - (1 - shot.light) * radius) * (shot.shadow + (1 - shot.shadow) * np.clip(band / 0.03 + 0.5, 0, 1))
    lit: Any = cv2.resize((light * shot.brightness).astype(np.float32), (width, height))
    seen = cv2.merge([cv2.multiply(seen[..., n], lit, dtype=cv2.CV_8U) for n in range(3)])
    seen = cv2.GaussianBlur(seen, (0, 0), shot.blur) if shot.blur else seen
    grain: Any = np.empty(seen.shape, np.int8)
    cv2.setRNGSeed(shot.seed + 1)
    cv2.randn(grain, np.zeros(3), np.full(3, shot.noise))
    return np.asarray(cv2.add(seen, grain, dtype=cv2.CV_8U))


def _straight(seen: Floats, bent: Floats) -> Floats:
    """Rays that a lens bends to where they are seen: by repeated correction, to the last digit."""
    k1, k2, p1, p2, k3 = bent
    ray = seen.copy()
    for _ in range(50):
        x, y = ray.T
        square = x * x + y * y
        aside = np.column_stack(
            [2 * p1 * x * y + p2 * (square + 2 * x * x), p1 * (square + 2 * y * y) + 2 * p2 * x * y]
        )
        ray = (seen - aside) / (1 + k1 * square + k2 * square**2 + k3 * square**3)[:, None]
    return ray


def _turned(turns: tuple[float, float, float]) -> Floats:
    """The camera above the table, its picture's right side towards the sheet's right, turned and leaning."""
    round_, along, across = np.radians(turns)
    c, s = np.cos(round_), np.sin(round_)
    spin = np.array([(c, -s, 0), (s, c, 0), (0, 0, 1)])
    c, s = np.cos(along), np.sin(along)
    lean = np.array([(1, 0, 0), (0, c, -s), (0, s, c)])
    c, s = np.cos(across), np.sin(across)
    roll = np.array([(c, 0, s), (0, 1, 0), (-s, 0, c)])
    return np.asarray(spin @ lean @ roll @ np.array([(0.0, 1, 0), (1, 0, 0), (0, 0, -1)]))


def _distance(everything: Floats, middle: Floats, turn: Floats, focal: float, shot: Shot) -> float:
    """How far the camera must be for all to be in its picture, mm."""
    half = np.array(shot.size) / 2
    solid = np.column_stack([everything - middle, np.zeros(len(everything))]) @ turn.T
    for away in np.arange(300.0, 4000.0, 10.0):
        seen = focal * (np.abs(solid[:, :2]) + shot.room) / (solid[:, 2:] + away)
        if (solid[:, 2] + away > 100).all() and (seen < half * 0.97).all():
            return float(away)
    raise ValueError("the camera would be too far away")


@cache
def rendered() -> Pixels:
    """The photo that several tests read."""
    return photo([PIECE], QUICK)


def kept(folder: Path, pixels: Pixels) -> Path:
    """A photo as a camera keeps it."""
    path = folder / "front.jpg"
    cv2.imwrite(str(path), pixels, [cv2.IMWRITE_JPEG_QUALITY, 92])
    return path
