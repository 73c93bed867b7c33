"""A marker's file read back: what it says, as the independent check takes it; nothing in it is believed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Literal

import numpy as np
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from nesting.verify import Laid, Layout, Strip
from pieces.data import json_data
from reports.errors import JobError

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

LARGEST = 50_000_000
"""Bytes of a file: a marker of some thousand outlines has a tenth of that."""

FARTHEST = 1e6
"""No marker reaches a kilometre, mm."""

MOST_LAID, MOST_POINTS = 20_000, 20_000

Coordinate = Annotated[float, Field(ge=-FARTHEST, le=FARTHEST)]
Point = tuple[Coordinate, Coordinate]
Size = Annotated[float, Field(ge=0, le=FARTHEST)]
Name = Annotated[str, Field(max_length=200)]


class Part(BaseModel):
    """A part of a marker's file; keys that the check has no use for are left aside."""

    model_config = ConfigDict(allow_inf_nan=False, frozen=True)


class BandSaid(Part):
    """A strip of cloth that a marker speaks of."""

    x0: Coordinate
    y0: Coordinate
    y1: Coordinate
    layers: int = Field(ge=1, le=1000)


class LineSaid(Part):
    """A line within a piece, in its place."""

    kind: Literal["line", "cutout", "sew"]
    points: list[Point] = Field(min_length=1, max_length=MOST_POINTS)


class PlacementSaid(Part):
    """An outline in its place; files of earlier versions have no marks."""

    piece: Name
    turn: float = Field(ge=-1e6, le=1e6)
    mirrored: bool
    on_fold: bool
    outline: list[Point] = Field(min_length=3, max_length=MOST_POINTS)
    notches: list[Point] | None = Field(None, max_length=MOST_POINTS)
    drill_points: list[Point] | None = Field(None, max_length=MOST_POINTS)
    inner: list[LineSaid] | None = Field(None, max_length=MOST_POINTS)

    def laid(self) -> Laid:
        """The same for the check."""
        marks: dict[str, tuple[NDArray[np.float64], ...]] = {}
        for kind, points in (("notch", self.notches), ("drill point", self.drill_points)):
            if points is not None:
                marks[kind] = tuple(np.array([point]) for point in points)
        if self.inner is not None:
            for kind in ("cutout", "line", "sew"):
                marks[kind] = tuple(np.array(line.points) for line in self.inner if line.kind == kind)
        return Laid(self.piece, np.array(self.outline), self.turn, self.mirrored, self.on_fold, marks or None)


class MarkerSaid(Part):
    """All that a marker's file says that can be held against something."""

    unit: Literal["mm"]
    spread: Name
    fabric: Name = ""
    fold_depth: Size | None = None
    plies: int = Field(1, ge=1, le=1000)
    pattern_start: Coordinate | None = None
    length: Size
    gap: Size
    bands: list[BandSaid] = Field(min_length=1, max_length=1000)
    placements: list[PlacementSaid] = Field(max_length=MOST_LAID)

    def layout(self) -> Layout:
        """The same for the check."""
        return Layout(
            self.length,
            self.gap,
            tuple(placed.laid() for placed in self.placements),
            tuple(Strip(band.y0, band.y1, band.layers) for band in self.bands),
            min((band.x0 for band in self.bands if band.x0 > 0), default=None),
            self.pattern_start,
        )


def read_marker(path: Path) -> MarkerSaid:
    """Read a marker's file; JobError, in one line, if it is none."""
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST + 1)
        if len(data) > LARGEST:
            raise JobError(f"{path} is larger than {LARGEST // 1_000_000} MB: that is no marker")
        return MarkerSaid.model_validate(json_data(data.decode(), path.name, ValueError))
    except OSError as error:
        raise JobError(f"cannot read {path}: {(error.strerror or 'no such file').lower()}") from error
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        where = ".".join(str(part) for part in first["loc"][:4])[:100]
        raise JobError(f"{path} is no marker file: {where or 'its top'}: {first['msg'].lower()}") from error
    except (ValueError, RecursionError) as error:
        raise JobError(f"{path} is no marker file: it cannot be read as JSON") from error
