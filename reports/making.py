"""What a job and an order have in common: what is made, in which units, and where its files stand."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal

from pydantic import Field, field_validator, model_validator

from pieces.garments import GARMENTS
from pieces.units import Units
from reports.imported import IMPORTED
from reports.offer import Entry, in_metres


class Making(Entry):
    """A file that says what is made."""

    garment: str
    pieces_file: str | None = None
    units: Literal["in", "cm"] = "in"
    style: dict[str, Any] = Field(default_factory=dict)
    folder: Path = Field(Path(), exclude=True)

    @model_validator(mode="before")
    @classmethod
    def _sold_in_its_units(cls, data: Any) -> Any:
        """Give the cloth and rib of a metric file, where it does not say how they are sold, a metric step."""
        if not isinstance(data, dict) or data.get("units") != "cm":
            return data
        return data | {key: in_metres(data[key]) for key in ("fabric", "rib") if isinstance(data.get(key), list)}

    @field_validator("garment")
    @classmethod
    def _is_known(cls, name: str) -> str:
        if name not in (*GARMENTS, IMPORTED):
            raise ValueError(f"unknown garment {name!r}: known are {', '.join((*GARMENTS, IMPORTED))}")
        return name

    @property
    def written_in(self) -> Units:
        """How answers are written."""
        return Units(self.units)
