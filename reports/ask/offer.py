"""Cloth and rib that could be bought, as a job's entries describe them."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, Any, Literal, get_args

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, model_validator

from nesting.cloth.fabric import Fabric
from nesting.cloth.spread import FLAT_SPREADS, SEARCHED, Spread
from nesting.fit.remnant import Zone
from nesting.rib.band import RibStock
from pieces.length import mm
from pieces.piece.piece import MOST_TILT, Grain
from pieces.units import INCH, Units, parse_length, spoken
from reports.ask.tube import by_full_width
from reports.chalk.tape import STEPS_IN_WORDS, TAPE, tape_units
from reports.errors import PriceError
from reports.money.price import Price
from reports.money.weight import Weight
from reports.money.yardage import Increment, Purchase, left_between, more_for_less, purchase

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from pieces import Piece

WIDEST_GAP = 100.0
"""Most that may be kept between pieces, mm."""

METRIC_STEP = "0.1 m"
"""How cloth is sold where a metric job does not say: common practice, no source."""

MOST_SHRINKAGE = 30.0
"""Cloth that shrinks by more, percent, is no cloth to plan with."""

LONGEST_REPEAT = 3000.0
"""No pattern repeats less often, mm."""

ALL_SPREADS: tuple[Spread, ...] = (*FLAT_SPREADS, "fold-then-open", "part-folded", "crosswise")
"""The spreads that ``"best"`` tries, simplest first."""

CONTAINED: dict[str, tuple[Spread, ...]] = dict.fromkeys(SEARCHED, ("folded", "open"))
"""Spreads that another is at its limits: cloth folded in part is open at no depth, and folded at half its width; folded
and then opened out it is folded with nothing opened, and open with nothing folded."""

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
        raise ValueError(f"'{text}' is not a size: it must be more than 0")
    return mm


def _gap(text: Any) -> float:
    mm = parse_length(text)
    if mm > WIDEST_GAP:
        raise ValueError(f"'{text}' is too much: keep {WIDEST_GAP:.0f} mm or less between pieces")
    return mm


def _nap(value: Any) -> Any:
    if not (isinstance(value, bool) or value == "by garment"):
        got = f'"{value}"' if isinstance(value, str) else value
        raise ValueError(f'write true or false, without quotes, or "by garment", not {got}')
    return value


def _lies(value: Any) -> Any:
    if not isinstance(value, dict) or any(grain not in get_args(Grain) for grain in value.values()):
        known = ", ".join(f'"{grain}"' for grain in get_args(Grain))
        raise ValueError(f'name each piece with one of {known}, such as {{ sleeve = "cross", "pocket bag" = "free" }}')
    return tuple(value.items())


def _fault(value: Any) -> Zone:
    if not isinstance(value, list) or len(value) != 4:
        raise ValueError("a fault needs four lengths: from the start, from the lower edge, its length and its width")
    start, low, length, width = (parse_length(text) for text in value)
    return Zone(start, start + length, low, low + width)


def _name(text: Any) -> Any:
    if isinstance(text, str) and not (0 < len(text.strip()) <= LONGEST_NAME and text.isprintable()):
        raise ValueError(f"a name is one line of 1 to {LONGEST_NAME} characters: write a shorter or plainer name")
    return text


def _rib_increment(text: Any) -> Increment | Literal["strip", "set"]:
    return text if text in ("strip", "set") else _increment(text)


METRIC_TAPE = "5 mm"
"""The step of the tape in a metric job."""


def in_metres(entries: list[Any]) -> list[Any]:
    """Entries that are sold by a metric step unless they say otherwise."""
    step = {"sold_by": METRIC_STEP}
    entries = [
        {"tape_step": METRIC_TAPE} | e if isinstance(e, dict) and e.get("marking") == "tape" else e for e in entries
    ]
    return [step | e if isinstance(e, dict) and e.get("form") not in COUNTED else e for e in entries]


Nap = bool | Literal["by garment"]
TypedLength = Annotated[float, BeforeValidator(parse_length)]
Dimension = Annotated[float, BeforeValidator(_size)]
Name = Annotated[str, BeforeValidator(_name)]
Percent = Annotated[float, Field(ge=0)]
PriceText = Annotated[Price, BeforeValidator(Price.parse)]


class FileTable(BaseModel):
    """A table of a job file: unknown keys and odd values are refused."""

    model_config = ConfigDict(
        extra="forbid", strict=True, allow_inf_nan=False, frozen=True, arbitrary_types_allowed=True
    )


class PriceBreak(FileTable):
    """A lower price from some length on."""

    at_least: Dimension
    price: PriceText


class FabricOffer(FileTable):
    """A ``[[fabric]]`` entry: a cloth that could be bought, and how it is laid and sold."""

    name: Name = "fabric"
    width: Dimension
    selvedge: TypedLength = 0.0
    material: Literal["shell", "lining", "interfacing"] = "shell"
    pieces: tuple[str, ...] = Field((), strict=False)
    spread: Literal[Spread, "best"] = "folded"
    fold_depth: Dimension | None = None
    marking: Literal["exact", "tape"] = "exact"
    tape_step: Dimension | None = None
    plies: int = Field(2, ge=2, le=200)
    nap: Annotated[Nap, BeforeValidator(_nap)] = False
    tilt: float = Field(0.0, ge=0, le=MOST_TILT)
    lies: Annotated[tuple[tuple[str, Grain], ...], BeforeValidator(_lies)] = ()
    gap: Annotated[float, BeforeValidator(_gap)] = 0.0
    repeat_along: TypedLength = 0.0
    repeat_across: TypedLength = 0.0
    border: Dimension | None = None
    border_edges: tuple[str, ...] = Field((), strict=False)
    faults: tuple[Annotated[Zone, BeforeValidator(_fault)], ...] = Field((), strict=False)
    waste_twins: bool = False
    end_allowance: TypedLength = 10.0
    splice: TypedLength = 0.0
    shrinkage: Annotated[Percent, Field(le=MOST_SHRINKAGE)] = 0.0
    shrinkage_across: Annotated[Percent, Field(le=MOST_SHRINKAGE)] = 0.0
    washed: Literal["before", "after"] = "before"
    margin: Annotated[Percent, Field(le=100)] = 0.0
    sold_by: Annotated[Increment, BeforeValidator(_increment)] = Field("1/8 yd", validate_default=True)
    minimum: TypedLength = 0.0
    price: PriceText | None = None
    breaks: tuple[PriceBreak, ...] = Field((), strict=False)
    weight: Annotated[Weight, BeforeValidator(Weight.parse)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _has_full_width(cls, data: Any) -> Any:
        return by_full_width(data, is_tube=isinstance(data, dict) and data.get("spread") == "tube")

    @model_validator(mode="after")
    def _agrees(self) -> FabricOffer:
        for price in (self.price, *(step.price for step in self.breaks)):
            if price is not None and price.kind not in ("length", "weight"):
                raise PriceError("cloth is sold by length or by weight: give its price for each yd, m, kg or lb")
            if price is not None and price.kind == "weight" and self.weight is None:
                raise PriceError('a price by weight needs the weight of the cloth, such as weight = "240 g/m2"')
        if self.breaks and self.price is None:
            raise PriceError("breaks lower a price: give the price of short lengths too")
        if len({(p.currency, p.kind) for p in (self.price, *(step.price for step in self.breaks)) if p}) > 1:
            raise PriceError("the price and its breaks must be in one currency, and all by length or all by weight")
        if self.tape_step is not None and tape_units(self.tape_step) is None:
            raise ValueError(f"no tape has a tape_step of {self.tape_step:g} mm: choose {STEPS_IN_WORDS}")
        if self.fold_depth is not None and self.spread not in ("part-folded", "best"):
            raise ValueError('fold_depth goes only with spread = "part-folded": leave one out, or change the other')
        if (self.border is None) != (not self.border_edges):
            raise ValueError(
                "a border needs both: border, how far from the edge of the cloth it lies, and border_edges, the edges"
                ' of pieces that lie on it, such as ["hem"]'
            )
        if self.border is not None and self.border >= self.width:
            raise ValueError("border lies beyond the cloth: give its distance from the edge that it runs along")
        if self.repeat_along > LONGEST_REPEAT or self.repeat_across > self.width:
            raise ValueError("a repeat is at most as wide as the cloth, and 3 m long: check its unit")
        return self

    def fabric(self) -> Fabric:
        """The cloth as it is cut: narrower by what it shrinks if it is washed before, and still to shrink if after."""
        lost = self.shrinkage, self.shrinkage_across
        left = 1 - lost[1] / 100 if self.washed == "before" else 1.0
        return Fabric(
            self.name,
            mm(self.width * left),
            mm(self.selvedge),
            self.nap,
            mm(self.gap),
            mm(self.repeat_along),
            mm(self.repeat_across),
            lost if self.washed == "after" else (0.0, 0.0),
            mm((self.border or 0.0) * left),
        )

    def border_edge(self, piece: Piece) -> str:
        """The edge of a piece that lies on the border; empty if none does."""
        return next((edge.name for edge in piece.edges if edge.name in self.border_edges), "")

    def allowed(self, piece: Piece, known_as: str = "") -> Piece:
        """A piece as this cloth lets it lie: its tilt, its edge on a border, the grain asked for by its known name."""
        border = self.border_edge(piece)
        tilt = 0.0 if piece.on_fold or border else max(piece.tilt, self.tilt)
        lies = dict(self.lies).get(known_as or piece.name, piece.lies)
        return replace(piece, tilt=tilt, lies=lies, border=border)

    @property
    def tape(self) -> float:
        """The step of the tape that it is marked with, mm: as given, or 1/8 in; a metric job gives it 5 mm."""
        return self.tape_step or TAPE[Units.INCHES]

    @property
    def says_selvedge(self) -> bool:
        """Whether its selvedges are given; a tube has none."""
        return self.spread == "tube" or "selvedge" in self.model_fields_set

    @property
    def part(self) -> str:
        """What of the garment it is for: offers for the same part stand side by side."""
        return self.material + (f" ({', '.join(self.pieces)})" if self.pieces else "")

    def purchase(self, length: float, lengths: int = 1, *, on_pattern: bool = False) -> Purchase:
        """What to buy for a marker of some length, mm, of which several lengths may lie on one another."""
        return self.purchase_all([(lengths, length)], on_pattern=on_pattern)

    def purchase_all(self, plies: Sequence[tuple[int, float]], *, on_pattern: bool = False) -> Purchase:
        """What to buy for so many plies of each length, mm, each with its end allowances.

        More than that is bought where a lower price makes more cost less.
        """
        repeat = self.repeat_along if on_pattern else 0.0
        laid = [(number, length + 2 * self.end_allowance) for number, length in plies]
        bought = purchase(
            sum(number * length for number, length in plies),
            self.sold_by,
            ends=self.end_allowance * sum(number for number, _ in plies),
            splice=self.splice,
            start=repeat,
            apart=left_between(laid, repeat),
            shrinkage=self.shrinkage if self.washed == "before" else 0.0,
            margin=self.margin,
            minimum=self.minimum,
        )
        dearer = [step.at_least for step in self.breaks if step.at_least > bought.buy]
        more = (more_for_less(bought, self.sold_by, at) for at in dearer)
        return min((bought, *more), key=lambda one: self.cost(one.buy) or Decimal(0))

    def kilograms(self, length: float) -> float | None:
        """Weight of a length to buy, mm; None if the cloth's own is not given."""
        return None if self.weight is None else self.weight.kilograms(length, self.width)

    def price_for(self, length: float) -> Price | None:
        """The price that holds for a length, mm, if there is one."""
        steps = [step.price for step in sorted(self.breaks, key=lambda step: step.at_least) if step.at_least <= length]
        return steps[-1] if steps else self.price

    def cost(self, length: float) -> Decimal | None:
        """What a length, mm, costs at the price that holds for so much; None without a price."""
        price = self.price_for(length)
        if price is None:
            return None
        kilograms = self.kilograms(length)
        return price.of(length if price.kind == "length" or kilograms is None else kilograms * 1000)

    def spreads(self) -> tuple[Spread, ...]:
        """The spreads that it may lie in, simplest first: of one that is named also those it contains at its limits."""
        if self.spread == "best":
            return ALL_SPREADS
        return (self.spread,) if self.fold_depth is not None else (*CONTAINED.get(self.spread, ()), self.spread)

    def depth_of(self, spread: Spread, found: float | None = None) -> float | None:
        """How far it is folded over in a spread, mm: as given, else as found; None where it is not folded in part."""
        if spread != "part-folded":
            return None
        return found if self.fold_depth is None else self.fold_depth


def unsaid(offers: Iterable[FabricOffer | RibOffer], units: Units) -> list[str]:
    """A line for each offer whose selvedges are not given, and so not taken off."""
    none = "0 in" if units is Units.INCHES else "0 cm"
    return [
        f'{offer.name}: no selvedge is given, so none is taken off; measure it, or write selvedge = "{none}"'
        for offer in offers
        if not offer.says_selvedge
    ]


COUNTED: dict[str, Literal["strip", "set"]] = {"strips": "strip", "set": "set"}


class RibOffer(FileTable):
    """A ``[[rib]]`` entry: rib that could be bought, as tube, flat, or ready strips."""

    name: Name = "rib"
    form: Literal["tube", "flat", "strips", "set"] = "tube"
    width: Dimension
    depth: Dimension | None = None
    cuff: Dimension | None = None
    closed: bool = False
    selvedge: TypedLength = 0.0
    least_part: TypedLength = 4 * INCH
    end_allowance: TypedLength = 0.0
    sold_by: Annotated[Increment | Literal["strip", "set"], BeforeValidator(_rib_increment)] | None = None
    price: PriceText | None = None
    weight: Annotated[Weight, BeforeValidator(Weight.parse)] | None = None

    @model_validator(mode="before")
    @classmethod
    def _has_full_width(cls, data: Any) -> Any:
        return by_full_width(data, is_tube=isinstance(data, dict) and data.get("form") not in ("flat", *COUNTED))

    @model_validator(mode="after")
    def _agrees(self) -> RibOffer:
        if self.form in ("strips", "set") and self.depth is None:
            raise ValueError(f'{self.form} need a depth, such as depth = "{spoken("8 in", "20 cm")}"')
        if (self.step if isinstance(self.step, str) else None) != COUNTED.get(self.form):
            length = spoken("1/8 yd", "0.1 m")
            raise ValueError(f'strips are sold_by = "strip", sets by "set", tube and flat rib by a length, "{length}"')
        kind = "strip" if self.form in COUNTED else "length"
        if self.price is not None and self.price.kind == "weight" and kind == "length":
            if self.weight is None:
                raise PriceError('a price by weight needs the weight of the rib, such as weight = "300 g/m2"')
        elif self.price is not None and self.price.kind != kind:
            raise PriceError(
                f"this rib is sold by {COUNTED.get(self.form, 'length')}:"
                f" give its price for each {COUNTED.get(self.form, 'yd')}"
            )
        return self

    @property
    def says_selvedge(self) -> bool:
        """Whether its selvedges are given; only flat rib has any."""
        return self.form != "flat" or "selvedge" in self.model_fields_set

    @property
    def step(self) -> Increment | Literal["strip", "set"]:
        """How it is sold: by the strip, or in steps of a length."""
        if self.sold_by is not None:
            return self.sold_by
        return COUNTED.get(self.form) or _increment("1/8 yd")

    def kilograms(self, length: float) -> float | None:
        """Weight of a length to buy, mm; None if the rib's own is not given."""
        return None if self.weight is None else self.weight.kilograms(length, self.width)

    def cost(self, quantity: float) -> Decimal | None:
        """What a length, mm, or a number of strips costs; None without a price."""
        if self.price is None:
            return None
        kilograms = self.kilograms(quantity)
        return self.price.of(kilograms * 1000 if self.price.kind == "weight" and kilograms is not None else quantity)

    def stock(self) -> RibStock:
        """The rib itself."""
        depth = self.depth if self.form in COUNTED else None  # a tube has no depth of its own: one given is left aside
        return RibStock(
            self.name,
            self.form,
            mm(self.width),
            None if depth is None else mm(depth),
            mm(self.selvedge),
            None if self.cuff is None else mm(self.cuff),
            self.closed,
        )
