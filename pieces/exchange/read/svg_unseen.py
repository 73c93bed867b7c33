"""Shapes of an SVG that are read although nobody, or not everybody, sees all of them: each kind is told."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.exchange.sketch.within import PAGE_OFF

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from pieces.exchange.imported import ImportReport
    from pieces.exchange.read.svg_look import Look

    Floats = NDArray[np.float64]

TOLD = {
    "clipped": ("lies", "lie", "behind a clip path or a mask, which is ignored: all of it is read"),
    "white": ("is", "are", "drawn only in white, which does not show on paper: it is read anyway"),
    "words": ("is", "are", "written only in white, which does not show on paper: it is read anyway"),
    "beyond": ("goes", "go", "beyond the sides of the symbol or inner drawing that shows it: all of it is read"),
    "off": ("lies", "lie", "wholly or partly off the page: all of it is read"),
}
"""Of one shape, of several, and what is said of each."""


class Unseen:
    """The shapes that are read and not, or not wholly, seen.

    Parameters
    ----------
    page
        The corners of the page, mm; None if it has no sides.
    """

    def __init__(self, page: Floats | None) -> None:
        self._page = None if page is None else (page.min(axis=0) - PAGE_OFF, page.max(axis=0) + PAGE_OFF)
        self._around: list[Any] = []
        self._found: dict[str, list[Sequence[int]]] = {}

    def pass_edge(self, edge: str, line: Floats) -> None:
        """Go into a copy or an inner drawing by the line round all that is seen of it, or out of it."""
        import shapely

        if edge == "begin":
            self._around.append(shapely.Polygon(line).buffer(PAGE_OFF))
        else:
            self._around.pop()

    def note(
        self, lines: Sequence[tuple[Floats, bool]], numbers: Sequence[int], look: Look, *, is_clipped: bool
    ) -> None:
        """Note a shape that is read."""
        import shapely

        every = np.vstack([points for points, _ in lines])
        is_off = self._page is not None and not ((every >= self._page[0]) & (every <= self._page[1])).all()
        is_beyond = any(not around.covers(shapely.MultiPoint(every)) for around in self._around)
        for kind, holds in (
            ("clipped", is_clipped),
            ("white", look.is_white),
            ("beyond", is_beyond),
            ("off", is_off and not is_beyond),
        ):
            if holds:
                self._found.setdefault(kind, []).append(numbers)

    def note_words(self, numbers: Sequence[int], look: Look) -> None:
        """Note words that are read."""
        if look.is_white:
            self._found.setdefault("words", []).append(numbers)

    def tell(self, report: ImportReport) -> None:
        """Tell of all that were read; those that are left out or frames are told of already."""
        for kind, shapes in self._found.items():
            places = [[report.account.entries[n - 1].place for n in numbers] for numbers in shapes]
            many = sum(any(place in (None, "words read") for place in of) for of in places)
            if many:
                one, more, said = TOLD[kind]
                what = "text" if kind == "words" else "shape"
                report.guess(f"1 {what} {one} {said}" if many == 1 else f"{many} {what}s {more} {said}")
