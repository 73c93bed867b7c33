"""How hard is searched for each marker."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.search.listener import AnyListener
    from nesting.search.stop import StopCriterion

ITERATIONS = 60
"""Of the search for each marker, where neither these nor a time are asked for: some half a second for a jacket, more
for larger markers, and the same answer each time. More brings less than a step of what is sold, mostly."""

MANY_ITERATIONS = 300
"""The same where many markers are laid side by side."""

PROOF, MOST_PROOF = 0.2, 2.0
"""Effort for a sharper bound: by default and for each second of search time, and at most. It is work that is counted,
no time, so that a bound repeats however busy the machine is. The jackets that `new` writes take 0.11 and 0.16."""

TRIAL = 0.1
"""Share of the effort that each of several spreads gets on trial."""


@dataclass(frozen=True)
class Effort:
    """How hard to search for each marker: by rounds, which repeats exactly, or by time if `seconds` is given.

    Parameters
    ----------
    workers
        Searches for one marker side by side.
    proof
        Work for a sharper bound on the chosen marker, in the units of `slice_bound`; by default by how long is
        searched.
    interrupt
        Ends every search once it says so.
    listener
        Makes one that hears of a search; it is told of what, such as a cloth and how it lies.
    """

    iterations: int = ITERATIONS
    seconds: float | None = None
    seed: int = 0
    workers: int = 1
    proof: float | None = None
    interrupt: StopCriterion | None = field(default=None, compare=False, repr=False)
    listener: Callable[..., AnyListener] | None = field(default=None, compare=False, repr=False)

    def __post_init__(self) -> None:
        counts, shares = (self.iterations, self.seed, self.workers), (self.seconds, self.proof)
        are_plain = (
            all(type(one) is int and one >= 0 for one in counts)
            and self.workers
            and all(one is None or (type(one) is float and one >= 0) for one in shares)
        )
        if not are_plain or self.interrupt is not None or self.listener is not None:
            self._require_kinds()

    def _require_kinds(self) -> None:
        """What each must be; it loads what a command does not need to start, and plain numbers do without."""
        from pieces.errors import WrongNumberError, WrongTypeError
        from pieces.require import require_callable, require_number, require_whole, told

        for name, least in (("iterations", 0), ("seed", 0), ("workers", 1)):
            require_whole(getattr(self, name), f"the {name} of an Effort", least=least)
        for name in ("seconds", "proof"):
            if (given := getattr(self, name)) is not None:
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
        from nesting.search.stop import MaxIterations, SearchTime

        limit = MaxIterations(self.iterations) if self.seconds is None else SearchTime(self.seconds)
        return (limit,) if self.interrupt is None else (self.interrupt, limit)

    def stop(self) -> StopCriterion:
        """Fresh criteria as one."""
        from nesting.search.stop import AnyOf

        first, *more = self.criteria()
        return AnyOf(first, *more) if more else first

    @property
    def total(self) -> float:
        """Rounds of each search, or its seconds."""
        return self.iterations if self.seconds is None else self.seconds

    @property
    def proving(self) -> float:
        """Work for a sharper bound on each marker."""
        if self.proof is not None:
            return self.proof
        return PROOF * (self.total > 0) if self.seconds is None else min(PROOF * self.seconds, MOST_PROOF)

    @property
    def trial(self) -> Effort:
        """The effort for a first look."""
        seconds = None if self.seconds is None else self.seconds * TRIAL
        return replace(self, iterations=int(self.iterations * TRIAL), seconds=seconds)

    @property
    def alone(self) -> Effort:
        """The effort for a process of its own: nothing here ends it or hears of it."""
        return replace(self, interrupt=None, listener=None)

    def to_plain(self) -> dict[str, float | None]:
        """What answers of many markers say of it."""
        rounds = self.iterations if self.seconds is None else None
        return {"seed": self.seed, "iterations": rounds, "seconds": self.seconds}

    @property
    def parts(self) -> tuple[str, float, int]:
        """What it comes to, for the key of a marker."""
        return ("iterations" if self.seconds is None else "seconds", self.total, self.seed)
