"""The job: what was asked, read from a TOML file, with errors a person can act on."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING, Annotated, Any, Literal, get_args, get_type_hints

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, field_validator, model_validator

from nesting.fabric import Fabric
from nesting.spread import FLAT_SPREADS, Spread
from nesting.strips import RibStock
from pieces.body import Body, Wearer, usual_range
from pieces.errors import MeasurementError, PieceError
from pieces.garments import GARMENTS, Garment
from pieces.units import INCH, Units, format_size, parse_length
from reports.errors import JobError, PriceError, ReportError
from reports.faults import first_fault, unknown_key
from reports.price import Price
from reports.yardage import Increment, Purchase, purchase

if TYPE_CHECKING:
    from pathlib import Path

LARGEST_FILE = 1_000_000
"""No job file is larger, bytes."""

WIDEST_GAP = 100.0
"""Most that may be kept between pieces, mm."""

METRIC_STEP = "0.1 m"
"""How cloth is sold where a metric job does not say: common practice, no source."""

LONGEST_NAME = 60
"""Longest name of a cloth or a rib, in signs, that still fits a table and a drawing."""


def _increment(text: Any) -> Increment:
    mm = parse_length(text)
    if mm <= 0:
        raise ValueError("a step to sell by must be more than 0")
    return Increment(mm, text.strip())


def _size(text: Any) -> float:
    mm = parse_length(text)
    if mm <= 0:
        raise ValueError(f"'{text}' is no size: it must be more than 0")
    return mm


def _gap(text: Any) -> float:
    mm = parse_length(text)
    if mm > WIDEST_GAP:
        raise ValueError(f"'{text}' is too much: keep {WIDEST_GAP:.0f} mm or less between pieces")
    return mm


def _name(text: Any) -> Any:
    if isinstance(text, str) and not (0 < len(text.strip()) <= LONGEST_NAME and text.isprintable()):
        raise ValueError(f"a name is one line of 1 to {LONGEST_NAME} signs: write a shorter or a plainer one")
    return text


def _rib_increment(text: Any) -> Increment | Literal["strip"]:
    return "strip" if text == "strip" else _increment(text)


def _in_metres(entries: list[Any]) -> list[Any]:
    step = {"sold_by": METRIC_STEP}
    return [step | e if isinstance(e, dict) and e.get("form") != "strips" else e for e in entries]


Length = Annotated[float, BeforeValidator(parse_length)]
Size = Annotated[float, BeforeValidator(_size)]
Name = Annotated[str, BeforeValidator(_name)]
Percent = Annotated[float, Field(ge=0)]
PriceText = Annotated[Price, BeforeValidator(Price.parse)]


class _Entry(BaseModel):
    model_config = ConfigDict(
        extra="forbid", strict=True, allow_inf_nan=False, frozen=True, arbitrary_types_allowed=True
    )


class FabricOffer(_Entry):
    """A ``[[fabric]]`` entry: a cloth that could be bought, and how it is laid and sold."""

    name: Name = "fabric"
    width: Size
    selvedge: Length = 0.0
    spread: Literal["open", "folded", "double-folded", "tube", "best"] = "folded"
    nap: bool = False
    gap: Annotated[float, BeforeValidator(_gap)] = 0.0
    waste_twins: bool = False
    end_allowance: Length = 10.0
    shrinkage: Annotated[Percent, Field(lt=30)] = 0.0
    margin: Annotated[Percent, Field(le=100)] = 0.0
    sold_by: Annotated[Increment, BeforeValidator(_increment)] = Field("1/8 yd", validate_default=True)
    price: PriceText | None = None

    @field_validator("price")
    @classmethod
    def _by_length(cls, price: Price | None) -> Price | None:
        if price is not None and price.kind != "length":
            raise PriceError("cloth is sold by length: give its price for each yd or m")
        return price

    def fabric(self) -> Fabric:
        """The cloth itself."""
        return Fabric(self.name, self.width, self.selvedge, self.nap, self.gap)

    def purchase(self, length: float) -> Purchase:
        """What to buy for a marker of some length, mm."""
        ends, shrinkage, margin = self.end_allowance, self.shrinkage, self.margin
        return purchase(length, self.sold_by, ends=ends, shrinkage=shrinkage, margin=margin)

    def spreads(self) -> tuple[Spread, ...]:
        """The spreads to try."""
        return FLAT_SPREADS if self.spread == "best" else (self.spread,)


class RibOffer(_Entry):
    """A ``[[rib]]`` entry: rib that could be bought, as tube, flat, or ready strips."""

    name: Name = "rib"
    form: Literal["tube", "flat", "strips"] = "tube"
    width: Size
    depth: Size | None = None
    selvedge: Length = 0.0
    least_part: Length = 4 * INCH
    end_allowance: Length = 0.0
    sold_by: Annotated[Increment | Literal["strip"], BeforeValidator(_rib_increment)] | None = None
    price: PriceText | None = None

    @model_validator(mode="after")
    def _agrees(self) -> RibOffer:
        if self.form == "strips" and self.depth is None:
            raise ValueError('strips need a depth, such as depth = "8 in"')
        if (self.step == "strip") != (self.form == "strips"):
            raise ValueError('strips are sold_by = "strip", tube and flat rib by a length such as "1/8 yd"')
        kind = "strip" if self.form == "strips" else "length"
        if self.price is not None and self.price.kind != kind:
            raise PriceError(
                f"this rib is sold by {kind}: give its price for each {'strip' if kind == 'strip' else 'yd'}"
            )
        return self

    @property
    def step(self) -> Increment | Literal["strip"]:
        """How it is sold: by the strip, or in steps of a length."""
        if self.sold_by is not None:
            return self.sold_by
        return "strip" if self.form == "strips" else _increment("1/8 yd")

    def stock(self) -> RibStock:
        """The rib itself."""
        depth = self.depth if self.form == "strips" else None  # a tube has no depth of its own: one given is left aside
        return RibStock(self.name, self.form, self.width, depth, self.selvedge)


class Job(_Entry):
    """A whole job: a garment for a body, and the cloth and rib it could be made of."""

    garment: str
    units: Literal["in", "cm"] = "in"
    body: dict[str, Any] = Field(default_factory=dict)
    style: dict[str, Any] = Field(default_factory=dict)
    fabric: tuple[FabricOffer, ...] = Field((), strict=False)
    rib: tuple[RibOffer, ...] = Field((), strict=False)
    name: str = Field("job", exclude=True)

    @model_validator(mode="before")
    @classmethod
    def _sold_in_its_units(cls, data: Any) -> Any:
        """Give the cloth and rib of a metric job, where it does not say how they are sold, a metric step."""
        if not isinstance(data, dict) or data.get("units") != "cm":
            return data
        return data | {key: _in_metres(data[key]) for key in ("fabric", "rib") if isinstance(data.get(key), list)}

    @field_validator("garment")
    @classmethod
    def _is_known(cls, name: str) -> str:
        if name not in GARMENTS:
            raise ValueError(f"unknown garment {name!r}: known are {', '.join(GARMENTS)}")
        return name

    @field_validator("fabric", "rib")
    @classmethod
    def _are_named(cls, offers: tuple[Any, ...]) -> tuple[Any, ...]:
        kinds = [type(offer).model_fields["name"].default for offer in offers]
        return tuple(
            offer if offer.name != kind else offer.model_copy(update={"name": f"{kind} {number}"})
            for number, (offer, kind) in enumerate(zip(offers, kinds, strict=True), 1)
        )

    @property
    def written_in(self) -> Units:
        """How answers are written."""
        return Units(self.units)

    def model(self) -> Garment:
        """The garment asked for."""
        return GARMENTS[self.garment]

    def measured(self) -> Body:
        """The body, checked.

        Raises
        ------
        JobError, MeasurementError
            If a measurement is missing, unknown, unreadable or absurd.
        """
        known = list(get_type_hints(Body))
        _refuse_unknown(self.body, known, "body")
        missing = [name for name in self.model().measurements if name not in self.body]
        wearer = self.body.get("wearer", "women")
        if wearer not in get_args(Wearer):
            raise JobError(f"[body] wearer: {wearer!r} is not one of {', '.join(get_args(Wearer))}")
        if missing:
            limits = usual_range(wearer, missing[0])
            line = f'{missing[0]} = "{format_size((limits.low + limits.high) / 2, self.written_in)}"'
            raise MeasurementError(f"[body] lacks {' and '.join(missing)}: add a line such as {line}")
        lengths = {name: _length(value, f"[body] {name}") for name, value in self.body.items() if name != "wearer"}
        return Body(**lengths, wearer=wearer)

    def styled(self) -> Any:
        """The garment's style, checked; JobError if an option is unknown or unreadable."""
        garment = self.model()
        hints = get_type_hints(garment.style)
        options = {option.name: option for option in garment.options()}
        _refuse_unknown(self.style, list(options), "style")
        values: dict[str, Any] = {}
        for name, value in self.style.items():
            where, kind = f"[style] {name}", options[name].metadata["kind"]
            if kind == "length":
                values[name] = _length(value, where)
            elif kind == "share":
                if isinstance(value, bool) or not isinstance(value, int | float) or not 0.2 <= value <= 1.5:
                    raise JobError(f"{where}: {value!r} is no share: write a number from 0.2 to 1.5, such as 0.75")
                values[name] = float(value)
            elif value not in get_args(hints[name]):
                raise JobError(f"{where}: {value!r} is not one of {', '.join(get_args(hints[name]))}")
            else:
                values[name] = value
        return garment.style(**values)


def _length(value: Any, where: str) -> float:
    try:
        return parse_length(value)
    except PieceError as error:
        raise JobError(f"{where}: {error}") from error


def _refuse_unknown(given: dict[str, Any], known: list[str], table: str = "") -> None:
    for key in given:
        if key not in known:
            raise JobError(f"[{table}] {unknown_key(key, known)}" if table else unknown_key(key, known))


def read_job(path: Path) -> Job:
    """Read and check a job file.

    Raises
    ------
    JobError
        If the file cannot be read, is no TOML, or holds unknown keys or values that make no sense: one line
        that names the file, the entry, and what to do.
    """
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_FILE + 1)  # no more, even of a device that never ends
        if len(data) > LARGEST_FILE:
            raise JobError(f"{path} is larger than {LARGEST_FILE // 1_000_000} MB: that is no job file")
        text = data.decode("utf-8-sig")
    except OSError as error:
        raise JobError(f"cannot read {path}: {(error.strerror or 'no such file').lower()}") from error
    except UnicodeDecodeError as error:
        raise JobError(f"cannot read {path}: it is not text in UTF-8") from error
    return parse_job(text, path.name)


def parse_job(text: str, name: str = "job") -> Job:
    """Check a job given as TOML text; `name` is what errors call it."""
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        raise JobError(f"{name} is no valid TOML: {error}") from error
    if not data:
        raise JobError(f"{name} is empty: it needs a garment, [body], [style] and [[fabric]]; see 'ellwand new'")
    try:
        _refuse_unknown(data, [key for key in Job.model_fields if key != "name"])
        job = Job.model_validate(data | {"name": name})
        job.measured()
        job.styled()
    except ValidationError as error:
        fault = first_fault(error, {"fabric": FabricOffer, "rib": RibOffer})
        raise JobError(f"{name}: {fault}") from error
    except (PieceError, ReportError) as error:
        raise JobError(f"{name}: {error}") from error
    return job
