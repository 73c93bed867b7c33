"""The answer of `run`: a production run planned, from lays to quote."""

from __future__ import annotations

from typing import Literal, NotRequired

from reports.schema.buy import RibCutsAnswer
from reports.schema.cost import CostAnswer, CurveAnswer, QuoteAnswer
from reports.schema.head import UnitsName
from reports.schema.on_hand import OnHandAnswer
from reports.schema.sealed import Sealed


class GarmentAnswer(Sealed):
    """How many garments of a kind are ordered, and cut."""

    colour: str
    size: str
    ordered: int
    cut: int


class RollCutAnswer(Sealed):
    """A ply cut of a roll, numbered from 1."""

    ply: int
    mm: float
    from_mm: float


class FlawAnswer(Sealed):
    """A place on a roll that is cut out."""

    from_mm: float
    mm: float


class RollAnswer(Sealed):
    """A roll, numbered from 1, and what is left of it."""

    roll: int
    length_mm: float
    shade_lot: str
    width_mm: float
    flaws: list[FlawAnswer]
    left_mm: float
    cuts: list[RollCutAnswer]


class RollLeftAnswer(Sealed):
    """A roll not opened, or an end of one that is long enough to use; `entry` is it as a roll of the next order."""

    cloth: str
    colour: str
    roll: int
    opened: bool
    shade_lot: str
    width_mm: float
    from_mm: float
    length_mm: float
    value: str | None
    entry: str


class ShortLayAnswer(Sealed):
    """Plies of a lay for which there is no roll: the lay counted in its lot from 1, how many, and their length."""

    lay: int
    plies: int
    mm: float


class RunClothAnswer(Sealed):
    """A cloth of a lot: what is spread of it, and what a garment of each size takes.

    Where rolls are `short`, and it is `short_proved`, they cannot give all plies; else no way was found.
    """

    name: str
    width_mm: float
    colours: list[str]
    spread_mm: float
    taken_mm: dict[str, float]
    rolls: list[RollAnswer]
    plies_without_roll: list[int]
    short: list[ShortLayAnswer]
    short_proved: bool


class LayOfPlanAnswer(Sealed):
    """A lay: how many garments of each size are on its marker, in `mix` of all in order; and plies of each colour."""

    mix: list[int]
    garments: dict[str, int]
    plies: dict[str, int]
    marker_mm: float


class LayPlanAnswer(Sealed):
    """Lays that give the order: their cost, a cost that no plan undercuts, and whether it is reached."""

    cost: float
    bound: float
    optimal: bool
    mixes: int
    too_low: str
    lays: list[LayOfPlanAnswer]


class LayFiguresAnswer(Sealed):
    """How many lays a plan has, plies in the highest, and its cost."""

    lays: int
    height: int
    cost: float


class PreferredAnswer(Sealed):
    """The plan chosen by what the order prefers beside the cheapest one; `proved`: none has fewer lays."""

    prefer: Literal["fewest lays", "low lays"]
    chosen: LayFiguresAnswer
    cheapest: LayFiguresAnswer
    proved: bool


class LotAnswer(Sealed):
    """Garments cut together of one part; the plan, and two simple ones beside it.

    It was planned in `rounds`; if it is `stable`, planning again changes nothing, else it is the best of them. Of the
    mixes that a plan looks at, `mixes_laid` were laid; its bound counts the others at their estimated lengths.
    """

    part: str
    cloths: dict[str, RunClothAnswer]
    leaves_out_repeats: bool
    rounds: int
    stable: bool
    mixes_laid: int
    preferred: PreferredAnswer | None
    plan: LayPlanAnswer
    one_size: LayPlanAnswer
    one_by_one: LayPlanAnswer


class TicketAnswer(Sealed):
    """A cut ticket: garments of each size on the marker, and plies of each colour."""

    number: int
    part: str
    garments: dict[str, int]
    plies: dict[str, int]
    marker_mm: float
    table_mm: float
    density_percent: float
    checked: Literal[True]


class BoughtAnswer(Sealed):
    """One thing to buy: `number` of `unit` as the shop sells it."""

    what: str
    part: str
    supplier: str
    quantity: str
    number: float
    unit: str
    buy_mm: float | None
    cost: str | None
    price: str


class GivenAnswer(Sealed):
    """Rolls of a cloth that the order gives: how many of its plies they hold, and in words what is still to buy."""

    what: str
    part: str
    rolls: int
    length_mm: float
    plies: int
    plies_with_roll: int
    to_buy: str


class RunTrimAnswer(Sealed):
    """A trim that the drafts need, with the garments of each size that it is for; what it is bought by is in `buy`."""

    name: str
    buy: str
    count: int | None
    needed_mm: float | None
    sold_mm: float | None
    usual_length: bool
    sizes: dict[str, int]
    where: list[str]


class TicketBandAnswer(Sealed):
    """A band of a garment: which ticket and ply cut the garment, and the band's parts by their numbers on the sheets.

    Plies and parts count from 1: plies from the table up, parts along each row, row by row.
    """

    ticket: int
    ply: int
    colour: str
    size: str
    band: str
    copy: int
    parts: list[int]
    cut_from: list[str]
    joined_at: list[str]


class RunRibAnswer(RibCutsAnswer):
    """A rib, how its bands are joined, what is cut of each row, and which garment each band is for."""

    name: str
    colours: list[str]
    by_ticket: list[TicketBandAnswer]


class QuoteFileAnswer(Sealed):
    """A quote that is written, the `file` without its ending; `client` is empty where it is for the whole order."""

    file: str
    client: str
    quote: QuoteAnswer


class RunAnswer(Sealed):
    """The whole answer of an order."""

    schema: Literal[6]
    order: str
    units: UnitsName
    seed: int
    examples: list[str]
    delivery: str | None
    source: str
    notes: list[str]
    left_out: list[str]
    cut_short: bool
    garments: list[GarmentAnswer]
    lots: list[LotAnswer]
    rolls_left: list[RollLeftAnswer]
    tickets: list[TicketAnswer]
    buy: list[BoughtAnswer]
    given: list[GivenAnswer]
    trims_needed: list[RunTrimAnswer]
    ribs: list[RunRibAnswer]
    cutting_minutes: float
    cost: CostAnswer
    curve: CurveAnswer
    quote: QuoteAnswer
    quotes: list[QuoteFileAnswer]
    cautions: list[str]
    on_hand: NotRequired[list[OnHandAnswer]]
