"""Reference sheets found in a photo, to parts of a pixel; and whether the photo is good enough to measure by."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.errors import FormatError
from pieces.photo.board import CELLS, CORRECTED, reference_boards
from pieces.photo.camera import find_camera
from pieces.photo.crossings import crossed_corners

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from pieces.photo.board import CodedBoard
    from pieces.photo.camera import Camera

    Floats = NDArray[np.float64]
    Grey = NDArray[np.uint8]

FEWEST_CODES = 24
"""A quarter of the sheet: fewer hold the far end of a piece too loosely."""

COARSE = 2600
"""Codes are first looked for in a picture whose long side is no more, pixels."""

MOST_TILT = 45.0
"""A camera that looks further off straight down, degrees, sees far edges too flat."""

LEAST_FINE = 1.8
"""A millimetre must have so many pixels on the sheet."""

MOST_BLUR = 1.3
"""An edge may take so long to go from black to white, mm."""

LEAST_CONTRAST = 60.0
"""Between black and white of the sheet, of 255."""

MOST_MISSED = 1.0
"""Corners of a sheet may be missed by so many pixels, root mean square: a flat one is missed by a tenth."""

BARE = 1.7
"""Round a corner of the board nothing else is printed, mm."""


VOTES, NEAR, MISSED = 2, 3.2, 0.35
"""A coded square is one of a sheet's if so many of its neighbours, no more than so many squares away, are where that
sheet has them, to this share of a square."""


@dataclass(frozen=True, eq=False)
class SeenSheet:
    """A sheet in a photo: which one, corners of its squares, mm, and where they are seen, pixels."""

    board: CodedBoard
    places: Floats
    pixels: Floats


def find_sheets(grey: Grey, name: str, scale: float = 1.0) -> list[SeenSheet]:
    """The sheets in a picture, the one that is seen best first.

    Parameters
    ----------
    name
        What an error calls the photo.
    scale
        How much larger the sheets were printed than they should be.

    Raises
    ------
    FormatError
        If there is none, or the photo is too oblique, too blurred, too dark or too small: what to do about it.
    """
    numbers, corners = _codes(grey)
    parted = _parted(numbers, corners, name)
    boards = [board for board in reference_boards() if len(parted[board.letter][0]) >= FEWEST_CODES]
    if not boards:
        most = max(len(own) for own, _ in parted.values())
        found = f"only {most} of its {len(reference_boards()[0].codes)} coded squares" if most else "none"
        raise FormatError(
            f"{name}: the reference sheet is needed whole and sharp, and {found} can be read: print it with 'ellwand"
            " print --what reference', lay it flat beside the pattern, and take the photo from above, near enough,"
            " in good light"
        )
    boards.sort(key=lambda board: -len(parted[board.letter][0]))
    first, *others = boards
    seen = [_seen(grey, first, *parted[first.letter], name)]
    for board in others:
        try:
            seen.append(_seen(grey, board, *parted[board.letter], name))
        except FormatError:
            continue  # the best one will do; where it is needed, it is missed by name
    return [SeenSheet(each.board, each.places * scale, each.pixels) for each in seen]


def _seen(grey: Grey, board: CodedBoard, numbers: list[int], corners: Floats, name: str) -> SeenSheet:
    """One sheet, its corners sharpened."""
    size = (grey.shape[1], grey.shape[0])
    rough, _ = _camera(board.coded_corners()[numbers].reshape(-1, 2), corners.reshape(-1, 2), size, name)
    places = board.inner_corners()
    if rough.tilt > MOST_TILT:
        raise FormatError(
            f"{name} is taken {rough.tilt:.0f} degrees off straight down, at most {MOST_TILT:.0f} can be measured: hold"
            " the camera level above the middle"
        )
    fine = float(np.min(rough.fineness(places)))
    if fine < LEAST_FINE:
        raise FormatError(
            f"{name} shows a millimetre by {fine:.2f} pixels, {LEAST_FINE:g} are needed: go nearer, or use the camera's"
            " full size"
        )
    _refuse_dull(grey, rough, board, name)
    pixels, is_seen = _sharpened(grey, rough.project(places), fine)
    least = len(places) / 4
    if is_seen.sum() >= least:
        places, pixels = places[is_seen], pixels[is_seen]
        camera, kept = _camera(places, pixels, size, name)
        pixels, is_seen = crossed_corners(grey, camera, places)
        kept &= is_seen
        if kept.sum() >= least:
            places, pixels = places[kept], pixels[kept]
            camera, kept = _camera(places, pixels, size, name)
            if kept.sum() >= least and camera.rms <= MOST_MISSED:
                return SeenSheet(board, places[kept], pixels[kept])
    raise FormatError(f"{name}: the reference sheet is hidden or bent: lay it flat, with nothing on it")


def _camera(places: Floats, pixels: Floats, size: tuple[int, int], name: str) -> tuple[Camera, NDArray[np.bool_]]:
    import cv2

    try:
        camera, kept = find_camera(places, pixels, size)
        if np.isfinite(camera.values).all() and np.isfinite(camera.project(reference_boards()[0].paper())).all():
            return camera, kept
    except (cv2.error, np.linalg.LinAlgError):
        pass
    raise FormatError(f"{name}: the reference sheet cannot be measured: lay it flat, and take the photo from above")


def _codes(grey: Grey) -> tuple[list[int], Floats]:
    """Codes that are read, by their number on sheet A, and the corners of each, pixels, shape (n, 4, 2)."""
    import cv2

    board = reference_boards()[0]
    rows = [cv2.aruco.Dictionary.getByteListFromBits(board.bits(n)) for n in range(len(board.codes))]
    detector = cv2.aruco.ArucoDetector(cv2.aruco.Dictionary(np.concatenate(rows), CELLS, CORRECTED))
    long = max(grey.shape)
    best: tuple[list[int], Floats] = ([], np.zeros((0, 4, 2)))
    for side in (COARSE, long):
        factor = min(1.0, side / long)
        small: Any = cv2.resize(grey, None, fx=factor, fy=factor, interpolation=cv2.INTER_AREA) if factor < 1 else grey
        corners, numbers, _ = detector.detectMarkers(small)
        if numbers is not None and len(numbers) > len(best[0]):
            found: Floats = np.array(corners, dtype=np.float64).reshape(-1, 4, 2)
            best = [int(n) for n in np.asarray(numbers).ravel()], (found + 0.5) / factor - 0.5
        if factor == 1.0 or len(best[0]) >= 2 * FEWEST_CODES:
            break
    return best


def _parted(numbers: list[int], corners: Floats, name: str) -> dict[str, tuple[list[int], Floats]]:
    """Of each sheet, by its letter: its coded squares that are seen, by their place on it, and their corners.

    All sheets have the same codes: to which one a square belongs, its neighbours tell. FormatError if a sheet is there
    twice.
    """
    boards = reference_boards()
    codes = [boards[0].codes[number] for number in numbers]
    votes = np.zeros((len(boards), len(codes)), dtype=int)
    where = [{code: n for n, code in enumerate(board.codes)} for board in boards]
    middles = corners.mean(axis=1)
    for b, board in enumerate(boards):
        place = board.coded_corners()
        own = np.array([where[b][code] for code in codes], dtype=int)
        for n in range(len(codes)):
            # Near a square the table is as the square's own corners say, near enough.
            source = np.column_stack([place[own[n]], np.ones(4)])
            flat = np.linalg.lstsq(source, corners[n], rcond=None)[0]
            there = place[own].mean(axis=1)
            near = np.hypot(*(there - there[n]).T) < NEAR * board.square
            near[n] = False
            expected = np.column_stack([there[near], np.ones(int(near.sum()))]) @ flat
            scale = float(np.sqrt(abs(np.linalg.det(flat[:2]))))
            off = np.hypot(*(expected - middles[near]).T) / (scale * board.square)
            votes[b, n] = int((off < MISSED).sum())
    found = {}
    for b, board in enumerate(boards):
        those = [n for n in range(len(codes)) if votes[b, n] >= VOTES and votes[b, n] == votes[:, n].max()]
        once = {where[b][codes[n]]: n for n in sorted(those, key=lambda n: votes[b, n])}
        if len(those) - len(once) >= FEWEST_CODES / 2:
            raise FormatError(
                f"{name}: sheet {board.letter} is there twice: leave one of them in the picture, or print all pages of"
                " the reference sheet: each is another sheet"
            )
        found[board.letter] = (list(once), corners[list(once.values())])
    return found


def _sharpened(grey: Grey, expected: Floats, fine: float) -> tuple[Floats, NDArray[np.bool_]]:
    """The corners to parts of a pixel, and which of them are in the picture and near where they were expected."""
    import cv2

    half = max(2, min(12, int(BARE * fine)))
    rim = half + 2
    inside = ((expected > rim) & (expected < np.array(grey.shape[::-1]) - rim - 1)).all(axis=1)
    start = expected[inside].astype(np.float32).reshape(-1, 1, 2)
    until = (cv2.TERM_CRITERIA_EPS + cv2.TERM_CRITERIA_MAX_ITER, 60, 0.002)
    refined: Any = cv2.cornerSubPix(grey, start.copy(), (half, half), (-1, -1), until)
    found = expected.copy()
    found[inside] = refined.reshape(-1, 2)
    near = np.hypot(*(found - expected).T) < max(2.0, 0.7 * half)
    return found, inside & near


def _refuse_dull(grey: Grey, camera: Camera, board: CodedBoard, name: str) -> None:
    """Refuse a picture in which the sheet is too dark, or its edges too soft."""
    import cv2

    rows, columns = np.meshgrid(np.arange(1, board.rows), np.arange(board.columns), indexing="ij")
    middle = np.column_stack([rows.ravel(), columns.ravel() + 0.5]) * board.square
    steps = np.linspace(-BARE, BARE, 35)
    lines = middle[:, None, :] + steps[None, :, None] * np.array([1.0, 0.0])
    at = camera.project(lines.reshape(-1, 2)).astype(np.float32).reshape(*lines.shape)
    seen: Any = cv2.remap(grey, at[..., 0], at[..., 1], cv2.INTER_LINEAR)
    values = np.asarray(seen, dtype=np.float64)
    ends = np.abs(values[:, -8:].mean(axis=1) - values[:, :8].mean(axis=1))
    contrast = float(np.median(ends))
    if contrast < LEAST_CONTRAST:
        raise FormatError(
            f"{name} is too dark or too pale: between black and white of the sheet there are {contrast:.0f} of 255"
            f" steps, {LEAST_CONTRAST:.0f} are needed: take it in more light, without flash"
        )
    steep = np.abs(np.diff(values, axis=1)).max(axis=1) / (steps[1] - steps[0])
    blur = float(np.median(ends / np.maximum(steep, 1e-9)))
    if blur > MOST_BLUR:
        raise FormatError(
            f"{name} is blurred: edges of the sheet are {blur:.1f} mm wide, at most {MOST_BLUR:g} mm can be measured:"
            " hold the camera still, wipe its lens, and take it in more light"
        )
