"""Photos of paper patterns sent to the page: traced like a file is read, with how sure each piece is."""

from __future__ import annotations

import base64
import pickle
from typing import TYPE_CHECKING, Any

from pieces.errors import FormatError, PieceError
from pieces.units import parse_length

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from pieces.exchange.imported import Imported, ReadingChoices
    from pieces.exchange.own.sidecar import Sidecar
    from pieces.photo.trace import TraceChoices, TraceStep
    from reports.page.store.patterns import PhotoAsked

WIDEST = 1000
"""The picture of what was traced is no wider, pixels."""


def begin_tracing() -> None:
    """Load what tracing needs, so that it is no part of what a photo takes; in one thread, so that limits hold."""
    from pieces.photo.trace import need_opencv

    try:
        need_opencv()
    except ValueError:
        return  # it is said once the photo is read
    import cv2
    import shapely  # noqa: F401

    cv2.setNumThreads(1)


def traced_pieces(
    paths: Sequence[Path],
    asked: ReadingChoices,
    told: Sidecar,
    by: PhotoAsked,
    *,
    is_joined: bool = False,
    trace: bytes = b"",
    tell: Callable[[TraceStep], None] = lambda step: None,
) -> tuple[Imported, dict[str, Any], bytes]:
    """The pieces in photos, after what is decided of them; what is shown of how they were traced; and what was traced.

    Parameters
    ----------
    trace
        What was traced in them before, as this returns it: nothing is traced again then.
    is_joined
        Whether the photos show parts of one table.
    tell
        Is told of each step as it begins.

    Raises
    ------
    FormatError
        If they cannot be measured, or show no whole piece: what to do about it.
    """
    from pieces.exchange.read.reader import finish

    trace = trace or _traced(paths, by, is_joined=is_joined, tell=tell)
    # It comes from a process like this one, which had no more rights, and the server has not looked into it.
    sketches, report, photo = pickle.loads(trace)
    return finish(sketches, report, paths[0], asked, told), photo, trace


def _traced(paths: Sequence[Path], by: PhotoAsked, *, is_joined: bool, tell: Callable[[TraceStep], None]) -> bytes:
    """What is in photos, before anything is decided of it."""
    from pieces.photo.trace import trace_photos

    try:
        choices = _choices(by, is_joined=is_joined)
        sketches, report, photos = trace_photos(paths, choices, tell)
    except FormatError as error:
        raise FormatError(_without_options(str(error))) from error
    photo = {
        "measured_by": choices.measure,
        "is_joined": is_joined,
        "tables": [photo.to_plain() | {"picture": _picture(photo)} for photo in photos],
    }
    return pickle.dumps((sketches, report, photo))


def _without_options(said: str) -> str:
    """What is said of an option of the terminal, for those who have none to name."""
    return said.replace(" (--one-piece)", "").removeprefix("--one-piece: ")


def _choices(by: PhotoAsked, *, is_joined: bool) -> TraceChoices:
    from pieces.photo.trace import TraceChoices
    from reports.errors import PaperError
    from reports.paper.size import parse_paper

    given: dict[str, Any] = {"one_piece": is_joined}
    if is_joined and (by.sheet or by.mat):
        raise FormatError("photos of one piece are joined over printed reference sheets: measure by those")
    try:
        if by.line:
            given["line"] = parse_length(by.line)
        if by.sheet:
            paper = parse_paper(by.sheet)
            given["bare"] = (paper.width, paper.height)
        if by.mat:
            given["mat"] = parse_length(by.mat)
        return TraceChoices(**given)
    except (PaperError, PieceError) as error:
        said = str(error)  # the page has no options to name
        raise FormatError(said.partition(": ")[2] if said.startswith("--") else said) from error


def _picture(photo: Any) -> str:
    """What was traced, as a picture that a page can show: a JPEG in a data URL."""
    from reports.photo.seen import seen_jpeg

    return "data:image/jpeg;base64," + base64.b64encode(seen_jpeg(photo, WIDEST)).decode()
