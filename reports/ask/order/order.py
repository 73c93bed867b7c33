"""The order of a small run: what is to be cut of it, and how, read from a TOML file."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BeforeValidator, Field, model_validator

from nesting.errors import LayPlanError
from nesting.lays.roll_stock import RollStock
from pieces.units import parse_length, speak, spoken
from reports.ask.day import Day  # noqa: TC001  pydantic reads it
from reports.ask.imported import IMPORTED
from reports.ask.job import read_text
from reports.ask.offer import Dimension, FabricOffer, FileTable, Name, RibOffer
from reports.ask.order.entries import Trim
from reports.ask.pricing import Operation, Pricing
from reports.ask.recipe import Recipe, refuse_unknown
from reports.ask.written import loads, read_as
from reports.cautions import Tool  # noqa: TC001  pydantic reads the hint
from reports.money.examples import TABLES as EXAMPLE_TABLES

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread


USUAL_LAYERS: dict[Tool, int] = {"shears": 2, "rotary cutter": 4, "round knife": 20, "straight knife": 80}
"""Layers that a tool cuts at once, where neither the number nor the height of a stack is given: common practice, no
source; try it on the cloth."""

MOST_PIECES = 100_000
"""No small run has more garments of one size and colour."""


def _allowed(value: Any) -> float:
    """A tolerance: garments, or a share of those ordered, kept as a negative number of percent."""
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= MOST_PIECES:
        return float(value)
    found = re.fullmatch(r"\s*(\d{1,3}(?:\.\d+)?)\s*%\s*", value) if isinstance(value, str) else None
    if found is None or float(found[1]) > 100:
        raise ValueError(f'write a number of garments, such as 1, or a share up to 100 %, such as "5 %", not {value!r}')
    return -float(found[1])


class Tolerance(FileTable):
    """How many garments more or fewer than ordered may be cut of each size and colour."""

    under: Annotated[float, BeforeValidator(_allowed)] = 0.0
    over: Annotated[float, BeforeValidator(_allowed)] = 0.0

    def least(self, ordered: int) -> int:
        """Least that may be cut where so many are ordered."""
        return max(0, ordered - _share(self.under, ordered))

    def most(self, ordered: int) -> int:
        """Most that may be cut where so many are ordered; none where none is."""
        return ordered + _share(self.over, ordered) if ordered else 0


def _share(allowed: float, ordered: int) -> int:
    return int(allowed) if allowed >= 0 else int(ordered * -allowed / 100 + 1e-9)


class Cutting(FileTable):
    """How lays are spread and cut.

    Minutes: for making a marker and marking it out; for setting up a lay; for each ply, whatever its length; for each
    metre of ply spread; and for cutting along each metre of a lay. Common practice, no source: time your own.
    A lay is spread on the shortest table that holds it. No lay has fewer than `least_plies`, wherever that can be.
    `prefer` says what comes before cost: few lays, or low ones.
    """

    tool: Tool = "shears"
    table: Dimension = 3000.0
    other_tables: tuple[Dimension, ...] = Field((), strict=False)
    least_plies: int = Field(1, ge=1, le=400)
    most_layers: int | None = Field(None, ge=1, le=400)
    height: Dimension | None = None
    most_garments: int = Field(4, ge=1, le=24)
    prefer: Literal["cost", "fewest lays", "low lays"] = "cost"
    marker_minutes: float = Field(15.0, ge=0, le=10_000)
    lay_minutes: float = Field(10.0, ge=0, le=10_000)
    ply_minutes: float = Field(1.0, ge=0, le=10_000)
    spread_minutes: float = Field(0.5, ge=0, le=10_000)
    cut_minutes: float = Field(12.0, ge=0, le=10_000)

    @property
    def tables(self) -> list[float]:
        """Lengths of all tables, mm, the shortest first."""
        return sorted({self.table, *self.other_tables})

    def table_for(self, ply: float) -> float:
        """Length of the shortest table that holds a ply, mm, or else of the longest."""
        return next((table for table in self.tables if ply <= table + 1e-6), self.tables[-1])


def _place(value: Any) -> float:
    """How far from the start of a roll: a length, or none."""
    place = parse_length(value) if isinstance(value, str) else value
    if isinstance(place, bool) or not isinstance(place, int | float) or place < 0 or (place and value is place):
        raise ValueError(f'write how far from the start of the roll, such as "9 yd", not {value!r}')
    return float(place)


class RollFlaw(FileTable):
    """A place on a roll that is cut out: where it begins, and how long it is."""

    at: Annotated[float, BeforeValidator(_place)]
    length: Dimension


def _roll(value: Any) -> Any:
    if not isinstance(value, str | dict):
        usual = spoken('"30 yd"', '"30 m"')
        raise ValueError(f"write how long the roll is, such as {usual}, not {value!r}")
    return {"length": value} if isinstance(value, str) else value


class RollHeld(FileTable):
    """A roll that is there: its length alone, or a table with its shade lot, its own width, and its flaws."""

    length: Dimension
    shade_lot: str = ""
    width: Dimension | None = None
    flaws: tuple[RollFlaw, ...] = Field((), strict=False)

    def stock(self, width: float) -> RollStock:
        """The roll, of cloth so wide unless it says otherwise, mm."""
        flaws = tuple((one.at, one.length) for one in self.flaws)
        return RollStock(self.length, self.shade_lot, self.width or width, flaws)


class RunFabric(FabricOffer):
    """A ``[[fabric]]`` entry of an order: one colour of a cloth, or a cloth for garments of all colours."""

    spread: Literal["face-up", "face-to-face", "folded", "tube"] = "face-up"
    colour: Name | None = None
    supplier: Name = ""
    thickness: Dimension | None = None
    rolls: tuple[Annotated[RollHeld, BeforeValidator(_roll)], ...] = Field((), strict=False)
    usable_end: Dimension = 500.0

    @model_validator(mode="after")
    def _is_marked_exactly(self) -> RunFabric:
        if self.marking != "exact" or self.tape_step is not None:
            raise ValueError("the markers of a run are not chalked by tape: leave marking and tape_step out")
        widths = {roll.width or self.width for roll in self.rolls}
        if (self.repeat_across or self.border) and widths - {self.width}:
            raise ValueError(
                "a roll has a width of its own: there the pattern lies elsewhere across than the markers are laid for;"
                " order what is cut of that roll by itself"
            )
        if any(roll.width for roll in self.rolls) and self.spread in ("folded", "tube"):
            raise ValueError(f"plies are {self.spread}: rolls of their own width go with plies that lie open")
        try:
            _ = self.stock
        except LayPlanError as error:
            raise ValueError(str(error)) from error
        return self

    @property
    def stock(self) -> tuple[RollStock, ...]:
        """The rolls that are there."""
        return tuple(roll.stock(self.width) for roll in self.rolls)

    @property
    def lengths(self) -> tuple[float, ...]:
        """Their lengths, mm."""
        return tuple(roll.length for roll in self.rolls)

    @property
    def is_sorted(self) -> bool:
        """Whether rolls have shade lots, widths or flaws."""
        return any(roll.shade_lot or roll.width or roll.flaws for roll in self.rolls)

    @property
    def laid(self) -> Spread:
        """How a ply of it is laid out: a stack is one of open plies."""
        return self.spread if self.spread in ("folded", "tube") else "open"

    @property
    def layers(self) -> int:
        """Layers of cloth in a ply."""
        return 1 if self.laid == "open" else 2

    def most_plies(self, cutting: Cutting) -> int:
        """Plies that the tool cuts at once."""
        layers = cutting.most_layers or USUAL_LAYERS[cutting.tool]
        if cutting.height is not None and self.thickness is not None:
            by_height = int(cutting.height / self.thickness + 1e-9)
            layers = min(layers, by_height) if cutting.most_layers else by_height
        return layers // self.layers


class RunRib(RibOffer):
    """A ``[[rib]]`` entry of an order: rib for garments of one colour, or of all."""

    colour: Name | None = None
    supplier: Name = ""


def _example(name: Any) -> Any:
    table, _, key = name.partition(".") if isinstance(name, str) else ("", "", "")
    if table not in EXAMPLE_TABLES or (key and key not in TABLES[table].model_fields):
        raise ValueError(
            f"{name!r} cannot be an example: name one of {', '.join(EXAMPLE_TABLES)}, or a key of it,"
            ' such as "pricing.rate"'
        )
    return name


class Order(Recipe):
    """A whole order: garments by colour and size, the cloth they are cut from, and what the work costs.

    `examples` names the tables, or keys of them such as ``"pricing.rate"``, whose prices, rates and minutes are
    examples that nobody has confirmed yet: costs and quotes that follow from them are marked. A `strict` order ends in
    an error where a client is left out; all others are planned all the same.
    """

    examples: tuple[Annotated[str, BeforeValidator(_example)], ...] = Field((), strict=False)
    grade_file: str | None = None
    sizes: str | None = None
    clients: str | None = None
    delivery: Day | None = None
    quantity: dict[str, dict[str, Annotated[int, Field(ge=0, le=MOST_PIECES)]]] = Field(default_factory=dict)
    tolerance: Tolerance = Tolerance()
    cutting: Cutting = Field(default_factory=lambda: Cutting.model_validate({}))
    fabric: tuple[RunFabric, ...] = Field(strict=False, min_length=1)
    rib: tuple[RunRib, ...] = Field((), strict=False)
    trim: tuple[Trim, ...] = Field((), strict=False)
    operation: tuple[Operation, ...] = Field((), strict=False)
    pricing: Pricing = Field(default_factory=lambda: Pricing.model_validate({}))
    name: str = Field("order", exclude=True)
    strict: bool = Field(False, exclude=True)

    @model_validator(mode="after")
    def _agrees(self) -> Order:
        if self.garment == IMPORTED:
            return self._agrees_imported()
        if self.pieces_file or self.grade_file:
            raise ValueError(f'pieces_file and grade_file go with garment = "{IMPORTED}": {self.garment} is drafted')
        if (self.sizes is None) == (self.clients is None):
            raise ValueError('an order needs either a table, such as sizes = "women", or a file of clients')
        if self.sizes is not None and not any(n for by_size in self.quantity.values() for n in by_size.values()):
            raise ValueError("[quantity] is empty: write a line for each colour, such as rust = { M = 8, L = 6 }")
        if self.clients is not None and self.quantity:
            raise ValueError("the file of clients gives the quantities: leave [quantity] out")
        return self

    def _agrees_imported(self) -> Order:
        if not self.pieces_file or not self.grade_file:
            raise ValueError(
                f'{IMPORTED} pieces need both files: add pieces_file = "coat/pieces.json" and grade_file ='
                ' "coat/grades.toml"'
            )
        if self.sizes or self.clients:
            raise ValueError("imported pieces come in the sizes of their grade_file: leave sizes and clients out")
        if not any(n for by_size in self.quantity.values() for n in by_size.values()):
            raise ValueError("[quantity] is empty: write a line for each colour, such as rust = { M = 8, L = 6 }")
        return self


OURS = ("name", "folder", "ledger", "strict")
"""Fields of an order that no file may give."""

TABLES: dict[str, type[FileTable]] = {
    "tolerance": Tolerance,
    "cutting": Cutting,
    "fabric": RunFabric,
    "rib": RunRib,
    "trim": Trim,
    "operation": Operation,
    "pricing": Pricing,
}


def read_order(path: Path) -> Order:
    """Read and check an order file; from here on errors and notes speak its units.

    Raises
    ------
    JobError
        If the file cannot be read, is no TOML, or holds unknown keys or values that make no sense: one line that
        names the file, the entry, and what to do.
    """
    order = parse_order(read_text(path, "order"), path.name, path.parent)
    speak(order.written_in)
    return order


def parse_order(text: str, name: str = "order", folder: Path = Path()) -> Order:
    """Check an order given as TOML text; `name` is what errors call it, `folder` where the files it names are."""
    data = loads(text, name, "a garment, sizes, [quantity] and [[fabric]]; see 'ellwand new --help'")
    with read_as(data, name, TABLES):
        refuse_unknown(data, [key for key in Order.model_fields if key not in OURS])
        order = Order.model_validate(data | {"name": name, "folder": folder})
        order.styled()
    return order
