"""The answer of `draft`: pieces as they are cut, in mm; what `import` prints and `pieces.json` holds as well."""

from __future__ import annotations

from typing import Literal, NotRequired

from reports.schema.sealed import Sealed

XY = tuple[float, float]
"""x and y, mm."""


class NotchAnswer(Sealed):
    """A notch on the sew line."""

    name: str
    point: XY


class EdgeAnswer(Sealed):
    """One edge of a piece: its sew line, and the allowance outside it, mm."""

    name: str
    kind: Literal["seam", "fold"]
    allowance: float
    points: list[XY]


class InnerAnswer(Sealed):
    """A line inside a piece."""

    kind: Literal["line", "cutout", "sew"]
    points: list[XY]


class PieceAnswer(Sealed):
    """A pattern piece; one on the fold is half of what is cut. `tilt` is in degrees."""

    name: str
    material: Literal["shell", "rib", "lining", "interfacing"]
    cut: int
    mirrored_pair: bool
    on_fold: bool
    label: str
    lies: str
    tilt: float | None
    match: XY | None
    cut_line: list[XY]
    sew_line: list[XY]
    grain: list[XY]
    notches: list[NotchAnswer]
    drill_points: list[XY]
    edges: list[EdgeAnswer]
    inner: NotRequired[list[InnerAnswer]]


class SeamAnswer(Sealed):
    """Edges sewn to one another, each as piece and edge; `ease` is in mm."""

    name: str
    first: list[tuple[str, str]]
    second: list[tuple[str, str]]
    ease: float


class FinishedAnswer(Sealed):
    """What the garment measures once it is sewn, the body there, and the ease, mm; null where a body has no such."""

    name: str
    garment: float
    body: float | None
    ease: float | None


class DraftAnswer(Sealed):
    """A garment's pieces, the seams between them, its measures by name, mm, and its finished sizes."""

    schema: Literal[2]
    unit: Literal["mm"]
    garment: str
    pieces: list[PieceAnswer]
    seams: list[SeamAnswer]
    measures: dict[str, float]
    finished: list[FinishedAnswer]
    notes: list[str]
