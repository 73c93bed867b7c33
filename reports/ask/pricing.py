"""Labour and pricing, as the entries of an order or a job describe them."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field, model_validator

from reports.ask.day import Day  # noqa: TC001  pydantic reads it
from reports.ask.offer import FileTable, Name
from reports.errors import PriceError
from reports.money.cost.after import AfterCharge, SecondCurrency
from reports.money.cost.amounts import MarginShare, Minutes, Money, RateText, Share  # noqa: TC001  pydantic reads them
from reports.money.cost.pricing import PriceRule, Rate
from reports.money.cost.sheet import Charge
from reports.money.cost.sources import Expense, Work
from reports.money.cost.tariff import exact
from reports.money.price import Price, to_cents

if TYPE_CHECKING:
    from reports.money.cost.item import CostPart


LABOUR: tuple[CostPart, ...] = ("cutting", "sewing", "finishing")
"""What of a cost sheet is labour."""


class Operation(FileTable):
    """An ``[[operation]]`` entry: minutes for each garment, and perhaps minutes once a run, with their pay."""

    name: Name
    minutes: Minutes = 0.0
    set_up: Minutes = 0.0
    part: Literal["cutting", "sewing", "finishing"] = "sewing"
    grade: str | None = None
    rate: RateText | None = None

    @model_validator(mode="after")
    def _agrees(self) -> Operation:
        if not self.minutes and not self.set_up:
            raise ValueError(
                f"'{self.name}' takes no time: give minutes for each garment, or set_up minutes once a run"
            )
        if self.rate is not None and self.grade is not None:
            raise ValueError(f"'{self.name}' has both a grade and a rate: leave one out")
        return self


class LineCharge(FileTable):
    """A percentage of some lines of the cost sheet: of parts, such as cloth, or of lines by name."""

    name: Name
    percent: Share
    on: tuple[Name, ...] = Field(strict=False, min_length=1)


class After(FileTable):
    """A charge on what is billed: freight, duty. A percentage, or an amount for the whole order."""

    name: Name
    percent: Share | None = None
    amount: Money | None = None

    @model_validator(mode="after")
    def _agrees(self) -> After:
        self.charge()
        return self

    def charge(self) -> AfterCharge:
        """The charge."""
        percent = None if self.percent is None else _decimal(self.percent)
        return AfterCharge(self.name, percent, self.amount.amount if self.amount else None)


class Second(FileTable):
    """Another currency that totals are shown in besides: how much of it one unit of the order's own is, and when."""

    currency: Annotated[str, Field(min_length=1, max_length=4, pattern=r"^[^\s\d.,/]+$")]
    rate: Annotated[float, Field(gt=0, le=1_000_000)]
    date: Day


class Pricing(FileTable):
    """The ``[pricing]`` entry: pay for time, what is added to the cost, and how prices follow from it.

    `overhead` and `waste` are percentages added to the cost: overhead of all above it or of labour alone
    (`overhead_on`), waste (garments made but not sold) of all above it. A price follows from a markup, from a margin,
    or is given. `line_charges` are percentages of lines of the cost sheet, put on before overhead; `after` is
    charged beside the prices, which do not hold it.
    """

    rate: RateText | None = None
    grades: dict[str, RateText] = Field(default_factory=dict)
    efficiency: Annotated[float, Field(ge=1, le=200)] = 100.0
    set_up: dict[str, Money] = Field(default_factory=dict)
    overhead: Share = 0.0
    overhead_on: Literal["cost", "labour"] = "cost"
    waste: Share = 0.0
    markup: Share | None = None
    margin: MarginShare | None = None
    wholesale: Money | None = None
    retail_markup: Share | None = None
    retail_margin: MarginShare | None = None
    retail: Money | None = None
    tax: Annotated[float, Field(ge=0, le=100)] = 0.0
    price_step: Money = Field("0.01", validate_default=True)
    price_by_size: bool = False
    line_charges: tuple[LineCharge, ...] = Field((), strict=False)
    after: tuple[After, ...] = Field((), strict=False)
    second: Second | None = None

    @model_validator(mode="after")
    def _agrees(self) -> Pricing:
        for names in (("markup", "margin", "wholesale"), ("retail_markup", "retail_margin", "retail")):
            given = [name for name in names if getattr(self, name) is not None]
            if len(given) > 1:
                raise ValueError(f"{' and '.join(given)} set the same price: keep only one")
        if not to_cents(Fraction(self.price_step.amount)):
            raise ValueError("price_step is at least 0.01: prices are rounded up to whole steps of it")
        return self

    def charges(self) -> tuple[Charge, ...]:
        """Percentages of lines, then overhead and waste, as far as they are asked for."""
        found = (
            *(Charge(one.name, "other", _decimal(one.percent), one.on) for one in self.line_charges),
            Charge("overhead", "overhead", _decimal(self.overhead), LABOUR if self.overhead_on == "labour" else ()),
            Charge("waste: made but not sold", "waste", _decimal(self.waste)),
        )
        return tuple(charge for charge in found if charge.percent)

    def rule(self, currency: str) -> PriceRule:
        """How prices follow from cost; without a markup or a margin, the price is the cost."""
        return PriceRule(
            _as_rate(self.markup, self.margin, self.wholesale) or Rate(Decimal(0)),
            _as_rate(self.retail_markup, self.retail_margin, self.retail),
            self.price_step.amount,
            _decimal(self.tax),
            self.price_by_size,
            currency,
            tuple(one.charge() for one in self.after),
            self._second(currency),
        )

    def _second(self, currency: str) -> SecondCurrency | None:
        if self.second is None:
            return None
        if self.second.currency == currency:
            raise PriceError(f"[pricing] second is in {currency}, as the prices are: name another currency")
        return SecondCurrency(self.second.currency, _decimal(self.second.rate), self.second.date)

    def expenses(self) -> tuple[Expense, ...]:
        """What is paid once a run."""
        return tuple(Expense(name, to_cents(Fraction(money.amount))) for name, money in self.set_up.items())

    def work(self, operation: Operation) -> Work:
        """An operation with its pay.

        Raises
        ------
        PriceError
            If nothing says what it is paid.
        """
        rate = operation.rate or self.rate
        if operation.grade is not None:
            rate = self.grades.get(operation.grade)
            if rate is None:
                known = f"known are {', '.join(self.grades)}" if self.grades else "none is listed"
                raise PriceError(
                    f"[[operation]] '{operation.name}': no grade '{operation.grade}' under [pricing.grades]: {known}"
                )
        if rate is None:
            raise PriceError(
                f"[[operation]] '{operation.name}' has no pay: give it a rate, or [pricing] one, such as"
                ' rate = "18.00 / h"'
            )
        minutes, once = exact(operation.minutes), exact(operation.set_up)
        return Work(operation.name, operation.part, rate, minutes, once, exact(self.efficiency))

    def money(self) -> list[Price]:
        """All amounts of money that are written in it."""
        rates = [*self.grades.values(), *([self.rate] if self.rate else [])]
        step = [self.price_step] if "price_step" in self.model_fields_set else []
        given = [price for price in (self.wholesale, self.retail) if price is not None]
        given += [one.amount for one in self.after if one.amount]
        return [*rates, *self.set_up.values(), *given, *step]


def _as_rate(markup: float | None, margin: float | None, price: Price | None) -> Rate | Decimal | None:
    if price is not None:
        return price.amount
    if margin is not None:
        return Rate(_decimal(margin), "margin")
    return None if markup is None else Rate(_decimal(markup))


def _decimal(number: float) -> Decimal:
    """A number as it was written: 0.1 is 0.1, not the nearest binary number."""
    return Decimal(repr(number))
