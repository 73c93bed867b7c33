"""A thing in the notebook, and what it goes with."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, Literal, get_args

if TYPE_CHECKING:
    from collections.abc import Iterable

ThingKind = Literal[
    "project", "client", "cloth", "rib", "trim", "stock", "style", "pattern", "legend", "layout", "order", "photo"
]
"""What there is: `stock` is on hand by the ledger, `style` a garment in one's own style, `layout` laid by hand."""

THING_KINDS: tuple[ThingKind, ...] = get_args(ThingKind)

ThingKey = tuple[ThingKind, str]
"""A kind, and the id of a thing among those of its kind."""


@dataclass(frozen=True)
class KeptThing:
    """A thing: what it is called, a word on it, and when it was last changed, where that is known."""

    kind: ThingKind
    id: str
    name: str
    about: str = ""
    changed: str = ""

    @property
    def key(self) -> ThingKey:
        """By which others name it."""
        return self.kind, self.id


@dataclass
class Notebook:
    """All things, and which go together.

    Attributes
    ----------
    faults
        What could not be read, and why.
    """

    things: dict[ThingKey, KeptThing] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)
    _links: dict[ThingKey, set[ThingKey]] = field(default_factory=dict)

    def add(self, things: Iterable[KeptThing]) -> None:
        """Put things into it."""
        self.things.update((thing.key, thing) for thing in things)

    def link(self, one: ThingKey, other: ThingKey) -> None:
        """Say that two things go together, if both are there."""
        if one != other and one in self.things and other in self.things:
            self._links.setdefault(one, set()).add(other)
            self._links.setdefault(other, set()).add(one)

    def of(self, key: ThingKey) -> list[ThingKey]:
        """What a thing goes with: kind by kind, the last changed first, then by name."""
        found = [self.things[other] for other in self._links.get(key, ())]
        found.sort(key=lambda thing: thing.name.casefold())
        found.sort(key=lambda thing: thing.changed, reverse=True)
        found.sort(key=lambda thing: THING_KINDS.index(thing.kind))
        return [thing.key for thing in found]

    def plain(self) -> dict[str, Any]:
        """For machines."""
        return {
            "things": [
                {
                    "kind": thing.kind,
                    "id": thing.id,
                    "name": thing.name,
                    "about": thing.about,
                    "changed": thing.changed,
                    "related": [list(other) for other in self.of(thing.key)],
                }
                for thing in self.things.values()
            ],
            "faults": self.faults,
        }
