"""What a run costs, as `run` prints it: money is text in decimals."""

from __future__ import annotations

from typing import Literal, NotRequired

from reports.schema.sealed import Sealed

MeasureName = Literal["mm", "piece", "min", ""]


class CostLineAnswer(Sealed):
    """A line of a cost sheet; `quantity` is in mm, pieces or minutes, as `measure` says; `unit` is that of `price`."""

    what: str
    part: str
    quantity: float | None
    measure: MeasureName
    price: str
    unit: str
    amount: str
    basis: str


class SheetAnswer(Sealed):
    """Lines that add up; with prices where they are asked for each size, and of the mean garment."""

    lines: list[CostLineAnswer]
    total: str
    wholesale: NotRequired[str]
    margin_percent: NotRequired[str]
    retail: NotRequired[str | None]
    tax_percent: NotRequired[str]
    tax_on_wholesale: NotRequired[str]
    tax_on_retail: NotRequired[str | None]


class SecondTotalsAnswer(Sealed):
    """Totals in a second currency: each converted by itself at the rate stated for the date, to the cent."""

    currency: str
    rate: str
    date: str
    run: str
    garment: str
    wholesale: str
    retail: NotRequired[str]


class CostAnswer(Sealed):
    """The cost of a run, of each size and of the mean garment; `break_even` garments sold pay for the run."""

    currency: str
    garments: int
    run: SheetAnswer
    garment: SheetAnswer
    sizes: dict[str, SheetAnswer]
    fixed: str
    break_even: int | None
    billed: int
    second: NotRequired[SecondTotalsAnswer]


class CurvePointAnswer(Sealed):
    """The cost of a run of so many garments, and of one of them."""

    garments: int
    run: str
    unit: str


class CauseAnswer(Sealed):
    """What makes a step of the curve; `needed` and `bought` are in `measure`."""

    what: str
    why: str
    measure: MeasureName
    bought: float
    needed: float
    price: str
    up_to_break: bool


class CurveStepAnswer(Sealed):
    """A number of garments at which the unit cost jumps."""

    garments: int
    change: str
    causes: list[CauseAnswer]


class CurveAnswer(Sealed):
    """Unit cost by quantity."""

    ordered: int
    points: list[CurvePointAnswer]
    steps: list[CurveStepAnswer]
    small_rises: list[CurveStepAnswer]


class QuoteLineAnswer(Sealed):
    """A line of the quote."""

    colour: str
    size: str
    number: int
    each: str
    amount: str


class KindAnswer(Sealed):
    """Garments of one kind."""

    colour: str
    size: str
    number: int


class AfterAnswer(Sealed):
    """A charge beside the prices, such as freight."""

    name: str
    amount: str


class SecondBillAnswer(Sealed):
    """The quote's totals in a second currency."""

    currency: str
    rate: str
    date: str
    total: str
    to_pay: str
    with_tax: str


class QuoteAnswer(Sealed):
    """The quote; `confirmed` is false as long as some `examples` stand for the order's own figures."""

    title: str
    currency: str
    lines: list[QuoteLineAnswer]
    garments: int
    stock: list[KindAnswer]
    short: list[KindAnswer]
    confirmed: bool
    examples: list[str]
    total: str
    tax_percent: str
    tax: str
    after: NotRequired[list[AfterAnswer]]
    to_pay: NotRequired[str]
    second: NotRequired[SecondBillAnswer]
