"""A cloth with the marker on it, whatever it is of: a job's cloth, or a lay of a run."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nesting.cloth.spread import Spread
    from nesting.marker.marker import Marker
    from nesting.verify import Asked
    from reports.ask.offer import FabricOffer


@dataclass(frozen=True)
class LayFacts:
    """What a lay of a run is made of: its ticket, what it is called, its plies by colour, and how they are stacked."""

    ticket: int
    title: str
    plies: Mapping[str, int]
    stack: str

    @property
    def number(self) -> int:
        """Plies in all."""
        return sum(self.plies.values())


class CutCloth(Protocol):
    """What full-scale print, guide and files for other programs need: each marker gives what was `asked`."""

    @property
    def offer(self) -> FabricOffer:
        """The cloth."""
        ...

    @property
    def spread(self) -> Spread:
        """How it lies; of a stack in a run, one ply of it."""
        ...

    @property
    def depth(self) -> float | None:
        """How far it is folded over, mm, where it is in part."""
        ...

    @property
    def marker(self) -> Marker:
        """The marker."""
        ...

    @property
    def asked(self) -> Asked:
        """What it has to give."""
        ...

    @property
    def lay(self) -> LayFacts | None:
        """The lay that it is, in a run."""
        ...
