"""Files of patterns made by general-purpose libraries, for the tests of reading them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import shapely
from ezdxf import filemanagement

from pieces.exchange.imported import Imported, ReadingChoices
from pieces.exchange.read.reader import import_pieces

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

    from pieces import Piece

SQUARE = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]

FRONT = [(20.0, 20.0), (220.0, 20.0), (220.0, 180.0), (120.0, 220.0), (20.0, 180.0)]
"""Of 36,000 mm² by the shoelace formula, worked out by hand: 200 × 160 and a triangle of 200 × 40 over it."""


def dxf(
    path: Path, draw: Callable[[Drawing, Modelspace], object], units: int | None = 4, version: str = "R2000"
) -> Path:
    """A DXF file written by ezdxf; `draw` is given the document and its modelspace."""
    document = filemanagement.new(version)
    if version != "R12":
        document.header["$INSUNITS"] = units or 0
    draw(document, document.modelspace())
    document.saveas(path)
    return path


def svg(path: Path, inside: str, head: str = 'width="400mm" height="300mm" viewBox="0 0 400 300"') -> Path:
    """An SVG file."""
    path.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{inside}</svg>', encoding="utf-8")
    return path


def read(path: Path, **asked: Any) -> Imported:
    """The pieces of a file."""
    return import_pieces(path, ReadingChoices(**asked))


def area(piece: Piece) -> float:
    """Area of a piece as shapely measures it, mm²."""
    return float(shapely.Polygon(piece.cut_line).area)


def corners(piece: Piece) -> set[tuple[float, float]]:
    """The corners of a piece to a thousandth of a mm."""
    return {(round(x, 3) + 0.0, round(y, 3) + 0.0) for x, y in np.asarray(piece.cut_line).tolist()}


def path(points: Sequence[tuple[float, ...]], more: str = "") -> str:
    """A closed path of SVG."""
    return f'<path d="M {" L ".join(f"{x} {y}" for x, y in points)} Z" {more}/>'
