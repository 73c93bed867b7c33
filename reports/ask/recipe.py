"""What a job and an order have in common: what is made, in which units, and where its files stand."""

from __future__ import annotations

from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal, get_args, get_type_hints

from pydantic import Field, field_validator, model_validator
from pydantic_core import PydanticCustomError

from pieces.errors import PieceError, unknown_key
from pieces.garments.known import find_garment, garment_names
from pieces.length import Length
from pieces.units import Units, parse_length
from reports.ask.imported import IMPORTED, read_imported
from reports.ask.offer import FileTable, in_metres
from reports.ask.shape import SHAPES, SHAPES_ALONE
from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Mapping
    from dataclasses import Field as DataclassField

    from pieces.garments import Garment
    from reports.ask.offer import FabricOffer


def units_of(data: Any) -> Units:
    """How answers to a file are written, before it is checked."""
    return Units.METRIC if isinstance(data, dict) and data.get("units") == "cm" else Units.INCHES


class Recipe(FileTable):
    """A file that says what is made; `fabric` and `name` are what it is made of, and what the file is called.

    `ledger` is the folder of the ledger that is asked for what is on hand; no file may give it.
    """

    if TYPE_CHECKING:
        fabric: tuple[FabricOffer, ...]
        name: str

    garment: str
    pieces_file: str | None = None
    units: Literal["in", "cm"] = "in"
    style: dict[str, Any] = Field(default_factory=dict)
    folder: Path = Field(Path(), exclude=True)
    ledger: Path | None = Field(None, exclude=True)

    @model_validator(mode="before")
    @classmethod
    def _sold_in_its_units(cls, data: Any) -> Any:
        """Give the cloth and rib of a metric file, where it does not say how they are sold, a metric step."""
        if not isinstance(data, dict) or data.get("units") != "cm":
            return data
        return data | {key: in_metres(data[key]) for key in ("fabric", "rib") if isinstance(data.get(key), list)}

    @field_validator("garment", mode="before")
    @classmethod
    def _is_one(cls, name: Any) -> Any:
        if isinstance(name, list):
            raise ValueError("[[garment]] is for a job file that 'ellwand buy' reads: here write one garment's name")
        return name

    @classmethod
    def kinds(cls) -> tuple[str, ...]:
        """What may be asked for."""
        return *garment_names(), IMPORTED

    @field_validator("garment")
    @classmethod
    def _is_known(cls, name: str) -> str:
        if name not in cls.kinds():
            known = (*garment_names(), IMPORTED)
            raise ValueError(f"unknown garment {name!r}: choose {', '.join(known)}")
        return find_garment(name).name if name in garment_names() else name

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
                    f"number {other + 1} is called '{named[other].name}', and number {number + 1} '{offer.name}': give "
                    "each its own name"
                )
                raise PydanticCustomError("same_name", "{said}", {"said": said, "path": (number, "name")})
        return named

    @property
    def written_in(self) -> Units:
        """How answers are written."""
        return Units(self.units)

    @property
    def title(self) -> str:
        """What is made, in the style that is asked for."""
        title = self.model().titled(self.styled())
        return title[0].upper() + title[1:]

    def model(self) -> Garment:
        """The garment asked for."""
        if self.garment == SHAPES:
            return SHAPES_ALONE
        return self._imported if self.garment == IMPORTED else find_garment(self.garment)

    def options(self) -> tuple[DataclassField[Any], ...]:
        """What the style of the garment may say."""
        return self.model().options()

    @cached_property
    def _imported(self) -> Garment:
        return read_imported(self.folder / str(self.pieces_file))

    @property
    def own_body(self) -> dict[str, Any]:
        """Measurements that stand in the file itself."""
        return {}

    def styled(self) -> Any:
        """The garment's style, checked; JobError if an option is unknown or unreadable."""
        garment = self.model()
        hints = get_type_hints(garment.style)
        options = {option.name: option for option in garment.options()}
        refuse_unknown(self.style, list(options), "style")
        values: dict[str, Any] = {}
        for name, value in self.style_for_cloth(self.style, options).items():
            kind = options[name].metadata["kind"]
            if kind == "length":
                values[name] = length_of("style", name, value)
            elif kind == "share":
                if isinstance(value, bool) or not isinstance(value, int | float) or not 0.2 <= value <= 1.5:
                    raise _key_error(
                        "style", name, f"{value!r} is not a share: write a number from 0.2 to 1.5, such as 0.75"
                    )
                values[name] = float(value)
            elif (word := f"{value:g}" if type(value) in (int, float) else value) not in get_args(hints[name]):
                raise _key_error("style", name, f"{value!r} is not one of {', '.join(get_args(hints[name]))}")
            else:
                values[name] = word
        return garment.style(**values)

    def style_for_cloth(self, style: dict[str, Any], options: Mapping[str, DataclassField[Any]]) -> dict[str, Any]:
        """A style with the width of the cloth that panels are counted for, where it does not say: the narrowest's."""
        option = options.get(CLOTH_WIDTH)
        offers = [offer for offer in getattr(self, "fabric", ()) if offer.material == "shell"]
        if option is None or CLOTH_WIDTH in style or style.get("panels", "by cloth") != "by cloth" or not offers:
            return style
        width = min(offer.width - 2 * offer.selvedge for offer in offers)
        return style | {CLOTH_WIDTH: f"{width!r} mm"} if width >= option.metadata["least"] else style


CLOTH_WIDTH = "cloth_width"
"""The option of a style that says how wide the cloth is of which panels are cut."""


def length_of(table: str, name: str, value: Any) -> Length:
    """A length under a key of a table, mm; JobError if it cannot be read."""
    try:
        return Length(parse_length(value))
    except PieceError as error:
        raise _key_error(table, name, str(error)) from error


def _key_error(table: str, name: str, said: str) -> JobError:
    return JobError(f"[{table}] {name}: {said}", said=said)


def refuse_unknown(given: dict[str, Any], known: list[str], table: str = "") -> None:
    """Raise JobError for the first key that is not known."""
    for key in given:
        if key not in known:
            said = unknown_key(key, known)
            raise JobError(f"[{table}] {said}" if table else said, said=said)
