"""Pictures into files: SVG, PNG or PDF, the same bytes every time, whole or not at all."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any

import matplotlib

from reports.draw.kit.sheet import missing_glyphs_allowed, typeface_notice
from reports.errors import OutputError
from reports.output import written_whole

if TYPE_CHECKING:
    from collections.abc import Iterable

    from matplotlib.figure import Figure

# Text stays text: it can be searched, copied and read aloud. Where DejaVu Sans is missing, most typefaces that
# stand in for it run narrower, so nothing overflows.
_SETTINGS: Any = {"svg.hashsalt": "ellwand", "svg.fonttype": "none", "pdf.fonttype": 42}
_METADATA: dict[str, dict[str, Any]] = {
    ".svg": {"Date": None, "Creator": "ellwand"},
    ".png": {"Software": "ellwand"},
    ".pdf": {"CreationDate": None, "Creator": "ellwand", "Producer": None},
}
DOTS_PER_INCH = 200


def save(figure: Figure, path: Path | str) -> None:
    """Write a picture; its kind follows from the ending ``.svg``, ``.png`` or ``.pdf``.

    Raises
    ------
    OutputError
        If the ending is another, or the folder cannot be written to. No half-written file is left.
    """
    path = Path(path)
    kind = path.suffix.lower()
    if kind not in _METADATA:
        raise OutputError(f"cannot draw {path}: name it with one of the endings {', '.join(_METADATA)}")
    with written_whole(path) as temporary:
        temporary.write_bytes(drawn(figure, kind[1:]))


def save_pages(figures: Iterable[Figure], path: Path) -> None:
    """Write pictures as the pages of one PDF."""
    from matplotlib.backends.backend_pdf import PdfPages

    metadata = _METADATA[".pdf"] | {"Subject": typeface_notice()}
    with (
        written_whole(path) as temporary,
        matplotlib.rc_context(_SETTINGS),
        missing_glyphs_allowed(),
        PdfPages(temporary, metadata=metadata) as pages,
    ):
        for figure in figures:
            pages.savefig(figure)


def drawn(figure: Figure, kind: str) -> bytes:
    """A picture as a file of its kind would hold it: ``"svg"``, ``"png"`` or ``"pdf"``."""
    stream = BytesIO()
    with matplotlib.rc_context(_SETTINGS), missing_glyphs_allowed():
        metadata = _METADATA[f".{kind}"]
        if kind == "pdf":
            metadata = metadata | {"Subject": typeface_notice()}
        figure.savefig(stream, format=kind, dpi=DOTS_PER_INCH, metadata=metadata)
    return stream.getvalue()


PICTURES = ("svg", "png", "pdf")
