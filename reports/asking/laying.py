"""Where a question's markers are laid: how hard is searched, who hears of it, and what ends it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    from collections.abc import Sequence
    from contextlib import AbstractContextManager

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from nesting.steps import Stop
    from pieces.units import Units
    from reports.keep.plans import KeptPlans
    from reports.plan.effort import Effort


class LaysMarkers(Protocol):
    """A place to lay markers: a terminal, or a process behind the page."""

    @property
    def effort(self) -> Effort:
        """How hard to search for each marker."""
        ...

    @property
    def before(self) -> dict[str, Any] | None:
        """The answer to go on from, as it was shown; None if there is none."""
        ...

    @property
    def plans(self) -> KeptPlans:
        """Plans kept of earlier answers."""
        ...

    def listening(self) -> AbstractContextManager[Stop]:
        """Within it an interrupt ends nothing: what it gives tells of it, and the answer is shown as far as it is."""
        ...

    def watched(self, units: Units) -> AbstractContextManager[Effort]:
        """The effort while someone looks on and may end it; lengths are told of in `units`."""
        ...

    def told(self, done: int, total: int, /) -> None:
        """Hear how many of some things are done that are laid one after the other."""
        ...

    def many(self, problems: Sequence[Problem], effort: Effort | None = None, /) -> Sequence[Marker | None]:
        """Lay many problems, by default with `effort`; None for those that an interrupt came before."""
        ...
