"""A printed PDF read back by pypdf: what is stroked and written on each page, in mm from its lower left corner."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from pypdf import PdfReader
from pypdf.generic import ContentStream

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray
    from pypdf import PageObject
    from shapely.geometry.base import BaseGeometry

    Floats = NDArray[np.float64]

POINT = 25.4 / 72  # PDF 32000-1: a point is 1/72 in


@dataclass(frozen=True, eq=False)
class Line:
    """A stroked line: only what lies within `clip` is seen."""

    points: Floats
    clip: BaseGeometry
    width: float
    dashes: tuple[float, ...]
    grey: float
    layer: str | None

    @property
    def seen(self) -> BaseGeometry:
        """The part that is printed."""
        return shapely.intersection(shapely.LineString(self.points), self.clip)

    @property
    def is_plain(self) -> bool:
        """Whether it is a full black line."""
        return not self.dashes and self.grey == 0

    @property
    def is_closed(self) -> bool:
        """Whether it is an outline."""
        return len(self.points) > 3 and bool(np.array_equal(self.points[0], self.points[-1]))


@dataclass(frozen=True, eq=False)
class Page:
    """One page."""

    width: float
    height: float
    lines: list[Line]
    text: str


def read_pages(path: Path) -> list[Page]:
    """All pages of a PDF."""
    reader = PdfReader(path)
    pages = []
    for page in reader.pages:
        box = page.mediabox
        stream = ContentStream(page.get_contents(), reader)
        lines = _Stream(page).lines(stream)
        pages.append(Page(float(box.width) * POINT, float(box.height) * POINT, lines, page.extract_text()))
    return pages


class _Stream:
    """Walks through the operators of a page: ISO 32000-1, tables 57 to 61."""

    def __init__(self, page: PageObject) -> None:
        resources: Any = page["/Resources"]
        found = resources.get("/Properties", {})
        self._layers = {key: str(found[key]["/Name"]) for key in found}
        self._state: dict[str, Any] = {"ctm": np.eye(3), "clip": None, "w": 1.0, "d": (), "G": 0.0}

    def lines(self, stream: ContentStream) -> list[Line]:  # noqa: C901 - a branch for each operator
        """All lines that are stroked."""
        stack: list[dict[str, Any]] = []
        path: list[list[tuple[float, float]]] = []
        within: list[str | None] = []
        lines: list[Line] = []
        for operands, operator in stream.operations:
            name = operator.decode()
            values = [float(value) for value in operands] if name in ("cm", "re", "m", "l", "c", "w", "G", "RG") else []
            if name == "q":
                stack.append(dict(self._state))
            elif name == "Q":
                self._state = stack.pop()
            elif name == "cm":
                a, b, c, d, e, f = values
                self._state["ctm"] = np.array([[a, b, 0], [c, d, 0], [e, f, 1]]) @ self._state["ctm"]
            elif name == "re":
                x, y, w, h = values
                path.append([(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)])
            elif name == "m":
                path.append([(values[0], values[1])])
            elif name == "l":
                path[-1].append((values[0], values[1]))
            elif name == "c":
                ends = np.array([path[-1][-1], *zip(values[::2], values[1::2], strict=True)])
                t = np.linspace(0, 1, 65)[1:, np.newaxis]
                drawn = (1 - t) ** 3 * ends[0] + 3 * (1 - t) ** 2 * t * ends[1] + 3 * (1 - t) * t**2 * ends[2]
                path[-1] += [(float(x), float(y)) for x, y in drawn + t**3 * ends[3]]
            elif name == "h":
                path[-1].append(path[-1][0])
            elif name in ("W", "W*"):
                self._state["clip"] = shapely.Polygon(self._mm(path[-1]))
            elif name in ("S", "s", "f", "f*", "n", "B"):
                if name in ("S", "s", "B"):
                    lines += [self._line(points, within) for points in path]
                path = []
            elif name == "w":
                self._state["w"] = values[0]
            elif name == "G":
                self._state["G"] = values[0]
            elif name == "d":
                self._state["d"] = tuple(float(value) for value in operands[0])
            elif name == "BDC":
                within.append(self._layers[str(operands[1])] if operands[0] == "/OC" else None)
            elif name == "EMC":
                within.pop()
        return lines

    def _mm(self, points: list[tuple[float, float]]) -> Floats:
        moved: Floats = np.column_stack([points, np.ones(len(points))]) @ self._state["ctm"]
        return moved[:, :2] * POINT

    def _line(self, points: list[tuple[float, float]], within: list[str | None]) -> Line:
        state = self._state
        dashes = tuple(dash * POINT for dash in state["d"])
        return Line(self._mm(points), state["clip"], state["w"] * POINT, dashes, state["G"], [*within, None][0])
