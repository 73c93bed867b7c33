"""What a job and an order have in common: what is made, in which units, and where its files stand."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal

from pydantic import Field, field_validator, model_validator
from pydantic_core import PydanticCustomError

from pieces.garments import GARMENTS
from pieces.units import Units
from reports.ask.imported import IMPORTED
from reports.ask.offer import FileTable, in_metres


def units_of(data: Any) -> Units:
    """How answers to a file are written, before it is checked."""
    return Units.METRIC if isinstance(data, dict) and data.get("units") == "cm" else Units.INCHES


class Making(FileTable):
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
            raise ValueError(f"unknown garment {name!r}: choose {', '.join((*GARMENTS, IMPORTED))}")
        return name

    @field_validator("fabric", "rib", check_fields=False)
    @classmethod
    def _are_named(cls, offers: tuple[Any, ...]) -> tuple[Any, ...]:
        """Number those without a name; no two may be called alike, as answers call them by their names."""
        kinds = [type(offer).model_fields["name"].default for offer in offers]
        named = tuple(
            offer if offer.name != kind else offer.model_copy(update={"name": f"{kind} {number}"})
            for number, (offer, kind) in enumerate(zip(offers, kinds, strict=True), 1)
        )
        first: dict[str, int] = {}
        for number, offer in enumerate(named):
            other = first.setdefault(" ".join(offer.name.split()).casefold(), number)
            if other != number:
                said = (
                    f"number {other + 1} is called '{named[other].name}', and number {number + 1} '{offer.name}': give"
                    " each a name of its own"
                )
                raise PydanticCustomError("same_name", "{said}", {"said": said, "path": (number, "name")})
        return named

    @property
    def written_in(self) -> Units:
        """How answers are written."""
        return Units(self.units)
