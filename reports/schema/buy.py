"""The answer of `buy` and of `demo`: what to buy of each cloth and rib offered, with its proof, and which is best."""

from __future__ import annotations

from typing import Literal, NotRequired

from typing_extensions import TypedDict

from nesting.cloth.spread import Spread
from reports.schema.cost import CostAnswer, QuoteAnswer
from reports.schema.head import SearchedAnswer
from reports.schema.on_hand import OnHandAnswer
from reports.schema.sealed import Sealed
from reports.schema.together import TogetherAnswer


class TiedAnswer(Sealed):
    """Another cloth or rib that is as good as the best."""

    number: int
    name: str


class BestAnswer(Sealed):
    """The best offer for a part of the garment; `number` counts the cloths or the ribs of the job from 1.

    `by` says why: nothing else will do, it costs least, least is bought of it, or it is the first named. Those in
    `tied_with` cost as little, or as little is bought of them. `saved` is money `against` the next best that is not as
    good; both are null where there is none.
    """

    part: str
    kind: Literal["fabric", "rib"]
    number: int
    name: str
    by: Literal["only", "cost", "quantity", "order"]
    tied_with: list[TiedAnswer]
    against: str | None
    saved: float | None


class RefusalCauseAnswer(Sealed):
    """Why cloth, rib or a spread will not do: the piece or band, what it needs and what there is, where that is known.

    `kind` says: a piece is too wide, or needs a fold; the cloth cannot lie so; or rib does not give a band.
    """

    kind: Literal["too wide", "no fold", "spread", "strip too short", "other"]
    piece: str | None
    needed_mm: float | None
    given_mm: float | None


class RefusedAnswer(Sealed):
    """A cloth or rib that will not do, and why."""

    name: str
    width_mm: float
    refused: str
    cause: RefusalCauseAnswer
    checked: Literal[False]


class ProofAnswer(Sealed):
    """How far a marker is from the best possible.

    No marker in this spread can be shorter than `bound_mm`; `held` is the argument for that. Of a fold in part
    `fold_depths` says at which depths it holds: at any, or at this one. Nothing less than
    `least_buy_mm` can be enough. Where less than is bought might be, a marker would have to be `less_needs_mm` long or
    shorter.
    """

    bound_mm: float
    held: str
    fold_depths: Literal["any", "this"] | None
    proved: bool
    gap_percent: float
    least_buy_mm: float
    least_buy: str
    buys_least: bool
    costs_least: bool | None
    less_needs_mm: float | None


class OtherWayAnswer(Sealed):
    """The same cloth in another spread, with what it takes; or with the reason why it will not do.

    Of one that was not `searched` as hard as the one chosen there are no figures to compare: they are null. The
    `shortest` takes less than the one chosen, which is simpler, and no less is bought for it.
    """

    spread: Spread
    mm: NotRequired[float | None]
    fold_depth_mm: NotRequired[float | None]
    buy_mm: NotRequired[float | None]
    buy: NotRequired[str | None]
    searched: NotRequired[bool]
    simplest: NotRequired[bool]
    shortest: NotRequired[bool]
    reason: NotRequired[str]
    cause: NotRequired[RefusalCauseAnswer]


AdditionName = Literal["ends", "splice", "begin", "plies", "shrinkage", "margin", "least", "rounding", "price"]
"""Why more is bought: the ends of each length, a splice, to begin on the pattern, between plies on a pattern, what
shrinks before it is cut, for safety, the least length sold, whole steps, or a lower price for more."""


class AdditionAnswer(Sealed):
    """Something added to a marker's length, mm; its percent, the step it is rounded to, or the pattern's repeat."""

    kind: AdditionName
    what: str
    mm: float
    percent: float | None
    step_mm: float | None
    repeat_mm: float | None


class LineAnswer(Sealed):
    """A line from marker to purchase as shown to people: the lengths shown add up."""

    kind: Literal["marker", AdditionName]
    what: str
    shown: str
    shown_mm: float


class FabricAnswer(Sealed):
    """A cloth that will do: its marker, what to buy, the proof, and the other ways in which it could lie.

    It lies in a `spread` that may be another than the `spread_asked`: the best of all, or one that this contains.
    """

    name: str
    width_mm: float
    selvedge_mm: float
    selvedge_given: bool
    usable_width_mm: float
    part: str
    spread: Spread
    spread_asked: Spread | Literal["best"]
    fold_depth_mm: float | None
    lengths_of_cloth: int
    simplest_spread: Spread
    marker_mm: float
    plain_mm: float | None
    proof: ProofAnswer
    density_percent: float
    additions: list[AdditionAnswer]
    lines: list[LineAnswer]
    buy_mm: float
    buy: str
    kilograms: float | None
    cost: float | None
    currency: str
    other_ways: list[OtherWayAnswer]
    stopped_by: Literal["proved", "interrupt", "no improvement", "purchase", "effort", "iterations", "time", "target"]
    effort: float
    seconds: float
    checked: Literal[True]


class JoinAnswer(Sealed):
    """A seam within a band: after which part, how far along the sewn band, and what it meets."""

    band: str
    copy: int
    after_part: int
    at_mm: float
    place: str | None


_From = TypedDict("_From", {"from": str})


class RibCutAnswer(_From, Sealed):
    """One part of a band in its place; ``from`` is the row or strip it is cut of."""

    band: str
    copy: int
    offset_mm: float
    rise_mm: float
    length_mm: float
    depth_mm: float
    joins: int
    part: int
    closed: bool


class RibCutsAnswer(Sealed):
    """How bands are joined, and what is cut of each row."""

    joins: int
    joined_at: list[JoinAnswer]
    most_at_places: bool
    optimal: bool
    cuts: list[RibCutAnswer]


class RibAnswerPlain(RibCutsAnswer):
    """A rib that will do: sold by length it has `need_mm`, `additions` and `buy_mm`, by the strip or set `count`."""

    name: str
    form: Literal["tube", "flat", "strips", "set"]
    width_mm: float
    selvedge_mm: float
    selvedge_given: bool
    count: NotRequired[int]
    need_mm: NotRequired[float]
    additions: NotRequired[list[AdditionAnswer]]
    buy_mm: NotRequired[float]
    buy: str
    cost: float | None


class ShoppingLineAnswer(Sealed):
    """Something to buy: for cloth and rib the best offer, for a trim what all garments take.

    `needed_mm` is the length that one garment takes: of a zip the edge it closes, of thread what is sewn. `sold_mm` is
    the length of each zip or spool, of elastic all that is bought; `usual_length` is false where it is made to order.
    `spacing_mm` is from one button to the next. Without a price, `price` and `cost` are null.
    """

    kind: Literal["cloth", "rib", "trim"]
    name: str
    buy: str
    count: int | None
    needed_mm: float | None
    sold_mm: float | None
    spacing_mm: float | None
    usual_length: bool
    sold_by: str
    price: str | None
    cost: float | None
    currency: str
    where: list[str]


class ShoppingAnswer(Sealed):
    """Everything to buy; the trims of imported pieces are not known."""

    garments: int
    trims_known: bool
    lines: list[ShoppingLineAnswer]


class CostingAnswer(Sealed):
    """What the garments cost and are offered at; `left_out` has no price, and is not in the cost."""

    cost: CostAnswer
    quote: QuoteAnswer
    left_out: list[str]


class BuyAnswer(SearchedAnswer):
    """The whole answer of a job. All lengths are in mm; `units` says how the words are written."""

    schema: Literal[7]
    best: list[BestAnswer]
    fabrics: list[FabricAnswer | RefusedAnswer]
    ribs: list[RibAnswerPlain | RefusedAnswer]
    shopping: ShoppingAnswer
    costing: CostingAnswer | None
    together: TogetherAnswer | None
    remarks: list[str]
    on_hand: NotRequired[list[OnHandAnswer]]
