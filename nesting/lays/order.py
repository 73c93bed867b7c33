"""What a run is planned from: the order, what table and blade allow, and what each step costs.

A mix says how many garments of each size one marker holds. A lay is one spread of cloth under one marker.
Money here is plain numbers in one unit, whichever it is.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, fields

from nesting.errors import LayPlanError

Mix = tuple[int, ...]
ColourSize = tuple[str, str]
"""Colour and size of a garment."""

Lengths = Mapping[Mix, float] | Callable[[Mix], float | None]
"""Marker lengths, mm: of the mixes in a mapping, or of any mix (None: it cannot be laid)."""


@dataclass(frozen=True)
class StyleOrder:
    """Garments of one style, by colour and size.

    Parameters
    ----------
    sizes, colours
        In the order in which mixes and tables name them.
    least, most
        How many are cut at least and at the most, by (colour, size); what is left out is not wanted.
    asked
        How many were ordered; of what is left out, the least.
    """

    sizes: tuple[str, ...]
    colours: tuple[str, ...]
    least: Mapping[ColourSize, int]
    most: Mapping[ColourSize, int]
    asked: Mapping[ColourSize, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        known = set(self.cells)
        for colour, size in [*self.least, *self.most]:
            if (colour, size) not in known:
                raise LayPlanError(
                    f"the order asks for '{size}' in '{colour}'; its sizes are {', '.join(self.sizes)} and its"
                    f" colours {', '.join(self.colours)}: correct the name, or add it to the order"
                )
        for cell in self.cells:
            least, most = self.range_of(cell)
            if least < 0 or most < least:
                raise LayPlanError(
                    f"'{cell[1]}' in '{cell[0]}' is to be cut at least {least} and at most {most} times:"
                    " the first must be 0 or more, the second no less than the first"
                )
        if not any(most for _, most in map(self.range_of, self.cells)):
            raise LayPlanError("the order asks for no garments: write a number for a size")

    @property
    def cells(self) -> list[ColourSize]:
        """Every colour and size."""
        return [(colour, size) for colour in self.colours for size in self.sizes]

    def range_of(self, cell: ColourSize) -> tuple[int, int]:
        """How many of a colour and size are cut at least and at the most."""
        return self.least.get(cell, 0), self.most.get(cell, 0)

    def asked_of(self, cell: ColourSize) -> int:
        """How many of a colour and size were ordered, as far as they may be cut."""
        least, most = self.range_of(cell)
        return min(most, max(least, self.asked.get(cell, least)))

    def most_of(self, colour: str) -> list[int]:
        """The most of each size in a colour."""
        return [self.most.get((colour, size), 0) for size in self.sizes]


@dataclass(frozen=True)
class LayRules:
    """What the table and the blade allow.

    Parameters
    ----------
    longest
        The longest lay, mm, the cloth lost at both ends included.
    most_plies
        Plies that are cut at once, at the most.
    most_garments
        Garments in one marker, at the most.
    ply_step
        Plies of a colour in a lay come in multiples of this: 2 where they lie face to face or folded.
    least_plies
        No lay has fewer plies, all colours together, wherever that can be.
    """

    longest: float
    most_plies: int
    most_garments: int
    ply_step: int = 1
    least_plies: int = 1

    def __post_init__(self) -> None:
        for name, what in (("most_plies", "plies cut at once"), ("most_garments", "garments in a marker")):
            if getattr(self, name) < 1:
                raise LayPlanError(f"the limit of {what} must be 1 or more, got {getattr(self, name)}: set {name}")
        if not self.longest > 0:
            raise LayPlanError(f"the longest lay must be longer than 0, got {self.longest:g} mm: measure the table")
        if not 1 <= self.ply_step <= self.most_plies:
            raise LayPlanError(
                f"plies come {self.ply_step} at a time, and {self.most_plies} can be cut at once:"
                " ply_step must be 1 or more, and no more than most_plies"
            )
        if not 1 <= self.least_plies <= self.most_plies:
            raise LayPlanError(
                f"a lay is to have {self.least_plies} plies or more, and {self.most_plies} can be cut at once:"
                " least_plies must be 1 or more, and no more than that"
            )


@dataclass(frozen=True)
class LayCosts:
    """What each step costs, all in one currency.

    Parameters
    ----------
    cloth
        A millimetre of cloth, by colour.
    marker
        Making a marker, however often it is used.
    lay
        Setting up a lay, whatever its size.
    ply, ply_mm
        Spreading a ply: walking back and cutting it off; and each millimetre of it.
    garment, cut_mm
        Cutting a lay: each garment of its marker, and each millimetre of it, whatever the plies.
    end_loss
        Cloth lost at both ends of a ply together, mm.
    over, under
        A garment more than ordered, beside the cloth and the cutting of its lay; and one fewer, which is not paid for.
        Both by (colour, size); of what is left out, nothing.
    """

    cloth: Mapping[str, float]
    marker: float = 0.0
    lay: float = 0.0
    ply: float = 0.0
    ply_mm: float = 0.0
    garment: float = 0.0
    cut_mm: float = 0.0
    end_loss: float = 0.0
    over: Mapping[ColourSize, float] = field(default_factory=dict)
    under: Mapping[ColourSize, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        given = {each.name: getattr(self, each.name) for each in fields(self)}
        single = {name: cost for name, cost in given.items() if not isinstance(cost, Mapping)}
        single |= {f"cloth '{colour}'": cost for colour, cost in self.cloth.items()}
        for name in ("over", "under"):
            single |= {f"{name} of '{size}' in '{colour}'": cost for (colour, size), cost in given[name].items()}
        for name, cost in single.items():
            if not 0 <= cost < math.inf:
                raise LayPlanError(f"{name} must be 0 or more, got {cost:g}: leave it out if it costs nothing")

    def of_ply(self, colour: str, length: float) -> float:
        """One ply under a marker of that length: its cloth, and spreading it."""
        if colour not in self.cloth:
            raise LayPlanError(f"the cloth in '{colour}' has no price: add one")
        return self.ply + (length + self.end_loss) * (self.cloth[colour] + self.ply_mm)

    def of_number(self, cell: ColourSize, cut: int, asked: int) -> float:
        """Garments of a colour and size that are cut beyond those asked for, or left out of them."""
        return max(0, cut - asked) * self.over.get(cell, 0.0) + max(0, asked - cut) * self.under.get(cell, 0.0)

    def of_lay(self, mix: Mix, length: float) -> float:
        """Setting up and cutting one lay, whatever its plies."""
        return self.lay + self.garment * sum(mix) + self.cut_mm * length
