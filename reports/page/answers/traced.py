"""A photo of paper patterns sent to the page: traced like a file is read, with how sure each piece is."""

from __future__ import annotations

import base64
from typing import TYPE_CHECKING, Any

from pieces.errors import FormatError, PieceError
from pieces.units import parse_length

if TYPE_CHECKING:
    from pathlib import Path

    from pieces.exchange.imported import Imported, ReadingChoices
    from pieces.exchange.own.sidecar import Sidecar
    from pieces.photo.trace import TraceChoices
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


def traced_pieces(path: Path, asked: ReadingChoices, told: Sidecar, by: PhotoAsked) -> tuple[Imported, dict[str, Any]]:
    """The pieces in a photo, after what is decided of them; and what is shown of how they were traced.

    Raises
    ------
    FormatError
        If it cannot be measured, or shows no whole piece: what to do about it.
    """
    from pieces.exchange.read.reader import finish
    from pieces.photo.trace import trace_photos

    sketches, report, photos = trace_photos([path], _choices(by))
    found = finish(sketches, report, path, asked, told)
    photo = {
        "measured_by": report.units,
        "pieces": [piece.to_plain() for photo in photos for piece in photo.pieces],
        "picture": _picture(photos[0]),
    }
    return found, photo


def _choices(by: PhotoAsked) -> TraceChoices:
    from pieces.photo.trace import TraceChoices
    from reports.errors import PaperError
    from reports.paper.size import parse_paper

    given: dict[str, Any] = {}
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
