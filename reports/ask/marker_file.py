"""A marker's file read back: what it says, as the independent check takes it; nothing in it is believed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

import numpy as np
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from nesting.verify import Claims, Laid, LaidMarker, Strip, Told
from pieces.data import json_data
from reports.ask.job import read_text
from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence
    from pathlib import Path

    from numpy.typing import NDArray

LARGEST = 50_000_000
"""Bytes of a file: a marker of some thousand outlines has a tenth of that."""

FARTHEST = 1e6
"""No marker reaches a kilometre, mm."""

MOST_LAID, MOST_POINTS = 20_000, 20_000

PLAIN = ("fabric", "spread", "width", "fold_depth", "plies", "garments", "gap")
"""What a file says of cloth and number, each in a number or a word."""

Coordinate = Annotated[float, Field(ge=-FARTHEST, le=FARTHEST)]
FilePoint = tuple[Coordinate, Coordinate]
NotNegative = Annotated[float, Field(ge=0, le=FARTHEST)]
ShortText = Annotated[str, Field(max_length=200)]


class FilePart(BaseModel):
    """A part of a marker's file; what it says beside is kept by name, so that nobody takes it for checked."""

    model_config = ConfigDict(allow_inf_nan=False, frozen=True, extra="allow")

    @property
    def unknown(self) -> set[str]:
        """Names of what it says that the check knows nothing of."""
        return set(self.model_extra or {})


class BandSaid(FilePart):
    """A strip of cloth that a marker speaks of."""

    name: ShortText
    x0: Coordinate
    x1: Coordinate
    y0: Coordinate
    y1: Coordinate
    layers: int = Field(ge=1, le=1000)
    mirrored: bool
    low_edge: ShortText
    high_edge: ShortText

    def strip(self) -> Strip:
        """The same for the check."""
        edges = self.low_edge, self.high_edge
        return Strip(self.name, self.x0, self.x1, self.y0, self.y1, self.layers, self.mirrored, *edges)


class LineSaid(FilePart):
    """A line within a piece, in its place."""

    kind: Literal["line", "cutout", "sew"]
    points: list[FilePoint] = Field(min_length=1, max_length=MOST_POINTS)


class PlacementSaid(FilePart):
    """An outline in its place."""

    piece: ShortText
    item: ShortText
    copy_: int = Field(alias="copy", ge=1, le=MOST_LAID)
    yields: int = Field(ge=0, le=MOST_LAID)
    band: ShortText
    turn: float = Field(ge=-1e6, le=1e6)
    mirrored: bool
    on_fold: bool
    outline: list[FilePoint] = Field(min_length=3, max_length=MOST_POINTS)
    grain: list[FilePoint] = Field(min_length=2, max_length=2)
    notches: list[FilePoint] = Field(max_length=MOST_POINTS)
    drill_points: list[FilePoint] = Field(max_length=MOST_POINTS)
    inner: list[LineSaid] = Field(max_length=MOST_POINTS)

    def laid(self) -> Laid:
        """The outline for the check."""
        marks: dict[str, tuple[NDArray[np.float64], ...]] = {}
        for kind, points in (("notch", self.notches), ("drill point", self.drill_points)):
            marks[kind] = tuple(np.array([point]) for point in points)
        for kind in ("cutout", "line", "sew"):
            marks[kind] = tuple(np.array(line.points) for line in self.inner if line.kind == kind)
        return Laid(self.piece, np.array(self.outline), self.turn, self.mirrored, self.on_fold, marks)

    def told(self) -> Told:
        """What is said of it beside."""
        return Told(self.item, self.yields, self.band, self.copy_, np.array(self.grain))


class LaySaid(FilePart):
    """What a file says of the lay of a run that its marker is of: the marker is that of one ply."""

    ticket: int = Field(ge=1, le=MOST_LAID)
    order: ShortText
    part: ShortText
    stack: ShortText
    garments: dict[ShortText, Annotated[int, Field(ge=1, le=MOST_LAID)]] = Field(min_length=1, max_length=1000)
    plies: dict[ShortText, Annotated[int, Field(ge=1, le=MOST_LAID)]] = Field(min_length=1, max_length=1000)
    ply_mm: NotNegative
    cut: dict[ShortText, dict[ShortText, int]] = Field(max_length=1000)


class MarkerSaid(FilePart):
    """All that a marker's file says."""

    version: Literal[1] = Field(alias="schema")
    unit: Literal["mm"]
    fabric: ShortText
    spread: ShortText
    width: NotNegative
    fold_depth: NotNegative | None
    plies: int = Field(ge=1, le=1000)
    garments: int = Field(ge=1, le=MOST_LAID)
    pattern_start: Coordinate | None
    length: NotNegative
    gap: NotNegative
    density_percent: NotNegative
    bands: list[BandSaid] = Field(min_length=1, max_length=1000)
    placements: list[PlacementSaid] = Field(max_length=MOST_LAID)
    lay: LaySaid | None = None

    def layout(self, unchecked: Collection[str] = ()) -> LaidMarker:
        """The same for the check, but for what there is nothing to hold against."""
        plain = {what: getattr(self, what) for what in PLAIN if what not in unchecked}
        return LaidMarker(
            self.length,
            self.gap,
            tuple(placed.laid() for placed in self.placements),
            tuple(band.strip() for band in self.bands),
            min((band.x0 for band in self.bands if band.x0 > 0), default=None),
            self.pattern_start,
            Claims(self.density_percent, tuple(placed.told() for placed in self.placements), plain),
        )

    @property
    def all_unknown(self) -> list[str]:
        """What the file says that the check knows nothing of, each by its place in the file."""
        lines = [line for placed in self.placements for line in placed.inner]
        parts: dict[str, Sequence[FilePart]] = {
            "": [self],
            "lay.": [self.lay] if self.lay else [],
            "bands.": self.bands,
            "placements.": self.placements,
            "placements.inner.": lines,
        }
        return sorted({f"{where}{name}" for where, some in parts.items() for part in some for name in part.unknown})


def read_marker(path: Path) -> MarkerSaid:
    """Read a marker's file; JobError, in one line, if it is none."""
    data = json_data(read_text(path, "marker", LARGEST), path.name, JobError)
    try:
        return MarkerSaid.model_validate(data)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        where = ".".join(str(part) for part in first["loc"][:4])[:100]
        raise JobError(f"{path} is not a marker file: {where or 'its top'}: {first['msg'].lower()}") from error
