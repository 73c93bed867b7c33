"""How hard is searched for each marker."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from nesting.problem.problem import Problem
    from nesting.search.listener import AnyListener
    from nesting.search.stop import Aims, StopCriterion
    from reports.ask.offer import FabricOffer

USUAL = 1.0
"""How hard to search for each marker, where neither this nor a time is asked for: some 5 s of one core at most, and the
same answer each time, whatever the question. More seldom brings a smaller purchase."""

PROOF = 4.0
"""Proof beside each effort of search, by default: on a second core it takes about as long as the search."""

TO_PROVE = 60.0
"""Least that is spent to prove a purchase, in units of `Placing`: a minute or two on two cores."""

AN_EFFORT = 5.0
"""Seconds of one core that an effort takes, about."""

SOLD = {"sold_by", "end_allowance", "splice", "shrinkage", "washed", "margin", "minimum", "repeat_along"}
"""What decides how much is bought for a marker."""


@dataclass(frozen=True)
class Effort:
    """How hard to search for each marker: by work, which repeats exactly, or by time if `seconds` is given.

    Parameters
    ----------
    amount
        Work as `MaxWork` counts it; with 0 there are first layouts only.
    workers
        Searches for one marker side by side.
    proof
        How much is proved beside each effort of search, as of `solve`.
    prove
        Whether a purchase is to be proved: a longer look at the spread that takes least, once all are searched.
    interrupt
        Ends every search once it says so.
    listener
        Makes one that hears of a search; it is told of what, such as a cloth and how it lies.
    ahead
        Hears, before each search, what shares of the work the searches after it will take, as far as they are known.
    sold
        The cloth that markers are laid for: a search aims at the next length with which less of it is bought. Where
        several spreads are searched for one that is named, they share the work.
    """

    amount: float = USUAL
    seconds: float | None = None
    seed: int = 0
    workers: int = 1
    proof: float = PROOF
    prove: bool = False
    interrupt: StopCriterion | None = field(default=None, compare=False, repr=False)
    listener: Callable[..., AnyListener] | None = field(default=None, compare=False, repr=False)
    ahead: Callable[[Sequence[float]], None] | None = field(default=None, compare=False, repr=False)
    sold: FabricOffer | None = field(default=None, compare=False, repr=False)

    def __post_init__(self) -> None:
        counts, shares = (self.seed, self.workers), (self.amount, self.seconds, self.proof)
        are_plain = (
            all(type(one) is int and one >= 0 for one in counts)
            and self.workers
            and all(one is None or (type(one) in (int, float) and one >= 0) for one in shares)
            and self.amount is not None
        )
        if not are_plain or self.interrupt is not None or self.listener is not None:
            self._require_kinds()

    def _require_kinds(self) -> None:
        """What each must be; it loads what a command does not need to start, and plain numbers do without."""
        from pieces.errors import WrongNumberError, WrongTypeError
        from pieces.require import require_callable, require_number, require_whole, told

        for name, least in (("seed", 0), ("workers", 1)):
            require_whole(getattr(self, name), f"the {name} of an Effort", least=least)
        for name in ("amount", "seconds", "proof"):
            if (given := getattr(self, name)) is not None or name == "amount":
                require_number(given, f"the {name} of an Effort")
                if not given >= 0:
                    raise WrongNumberError(f"the {name} of an Effort must be 0 or more, not {given}")
        if self.interrupt is not None:
            require_callable(self.interrupt, "the interrupt of an Effort", "a function of the best length", takes=1)
        if self.listener is not None and not callable(self.listener):
            raise WrongTypeError(
                f"the listener of an Effort must be a function that makes one, not {told(self.listener)}"
            )

    def criteria(self) -> tuple[StopCriterion, ...]:
        """Fresh criteria for one search, any of which ends it."""
        from nesting.search.stop import MaxWork, SearchTime

        limit = MaxWork(self.total) if self.seconds is None else SearchTime(self.seconds)
        return (limit,) if self.interrupt is None else (self.interrupt, limit)

    def stop(self) -> StopCriterion:
        """Fresh criteria as one."""
        from nesting.search.stop import AnyOf

        first, *more = self.criteria()
        return AnyOf(first, *more) if more else first

    @property
    def total(self) -> float:
        """Work of each search, or its seconds."""
        if self.seconds is not None:
            return self.seconds
        return float(self.amount) * self.share

    @property
    def share(self) -> float:
        """The share of the work that each spread gets, where several are searched for the one that is named."""
        is_named = self.sold is not None and self.sold.spread != "best" and self.seconds is None
        return 1 / len(self.sold.spreads()) if self.sold is not None and is_named else 1.0

    @property
    def proving(self) -> float:
        """Proof beside each effort of search."""
        return self.proof * (self.total > 0)

    @property
    def proof_in_all(self) -> float:
        """Proof beside the whole search."""
        return self.proving * (self.total if self.seconds is None else self.total / AN_EFFORT)

    def aims(self, problem: Problem) -> Aims | None:
        """What a search of a problem aims at; None where it is not known how the cloth is sold."""
        if self.sold is None:
            return None
        from reports.plan.aims import PurchaseAims

        return PurchaseAims(self.sold, problem.lengths, problem.repeat is not None)

    @property
    def to_prove(self) -> float:
        """What is spent to prove a purchase, in units of `Placing`; with some `seconds` only these end it."""
        return math.inf if self.seconds else max(TO_PROVE, self.proof * self.amount)

    @property
    def until(self) -> StopCriterion | None:
        """Fresh criteria for a proof, any of which ends it; None if its effort alone does."""
        from nesting.search.stop import AnyOf, SearchTime

        if not self.seconds:  # none to search are no reason to prove nothing
            return self.interrupt
        return AnyOf(*(one for one in (self.interrupt, SearchTime(self.seconds)) if one))

    @property
    def alone(self) -> Effort:
        """The effort for a process of its own: nothing here ends it or hears of it."""
        return replace(self, interrupt=None, listener=None, ahead=None)

    def to_plain(self) -> dict[str, float | None]:
        """What answers of many markers say of it."""
        effort = None if self.seconds is not None else float(self.amount)
        return {"seed": self.seed, "effort": effort, "seconds": self.seconds}

    @property
    def parts(self) -> tuple[str | float, ...]:
        """What it comes to, for the key of a marker."""
        told = "effort" if self.seconds is None else "seconds", self.total, self.seed, self.proving
        return told if self.sold is None else (*told, self.sold.model_dump_json(include=SOLD))
