"""A lot planned: its lays, what they were weighed against, and which roll each ply is cut from."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from nesting.lays.count import count_cut
from reports.run.use import consumption, ply_length

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nesting.lays.order import ColourSize, LayCosts, Mix
    from nesting.lays.order import StyleOrder as CutOrder
    from nesting.lays.plan import Lay, LayPlan
    from nesting.lays.rolls import RollPlan
    from nesting.marker.marker import Marker
    from reports.run.lots import Lot
    from reports.run.preferred import Preferred


@dataclass(frozen=True, eq=False)
class LotPlan:
    """The lays of a lot.

    Parameters
    ----------
    order, costs
        What was asked of the lay plan, and what each step of it costs.
    plan
        The lays chosen, all their markers laid for real.
    one_by_one, one_size
        What a garment at a time, and markers of one size alone, would come to, where that can be done.
    markers
        By mix: those of the plan, perhaps more.
    lengths
        Of all markers that were laid, mm, by mix.
    rounds, stable
        How often was planned, and whether to plan again would change nothing.
    rolls
        By cloth: which ply is cut from which roll, where rolls are given.
    from_shade
        The shade lot that a lay, counted from 0, is cut from, by lay and cloth; of what is left out, the only one.
    preferred
        How the plan compares with the cheapest one, where something comes before cost.
    """

    lot: Lot
    order: CutOrder
    costs: LayCosts
    plan: LayPlan
    one_by_one: LayPlan
    one_size: LayPlan
    markers: Mapping[Mix, Marker]
    lengths: Mapping[Mix, float]
    rounds: int
    stable: bool
    rolls: Mapping[str, RollPlan] = field(default_factory=dict)
    from_shade: Mapping[tuple[int, str], str] = field(default_factory=dict)
    preferred: Preferred | None = None

    @property
    def on_pattern(self) -> bool:
        """Whether pieces are matched to the pattern of the cloth."""
        return any(marker.problem.repeat is not None for marker in self.markers.values())

    @property
    def leaves_out_repeats(self) -> bool:
        """Whether cloth is lost between plies on a pattern: the costs of the lay plan, and its proof, leave it out."""
        return self.on_pattern and self.lot.cloth.repeat_along > 0

    def cut(self) -> dict[ColourSize, int]:
        """Garments cut, by cloth and size."""
        return count_cut(self.plan)

    def taken(self) -> dict[ColourSize, float]:
        """Length of cloth that a garment takes, mm, by cloth and size."""
        areas = {size: self.lot.area(size) for size in self.lot.pieces}
        return consumption(self.plan.lays, list(self.lot.pieces), areas, self.lot.cloth.end_allowance)

    def plies(self, key: str) -> list[float]:
        """Length of every ply of one cloth, mm, ends included."""
        ends = self.lot.cloth.end_allowance
        return [ply_length(lay, ends) for lay in self.plan.lays for _ in range(lay.plies.get(key, 0))]

    def need(self, lay: Lay, key: str) -> float:
        """How wide a roll must be for a lay of a cloth, selvedges included, mm: pieces may leave its far edge free."""
        cloth, marker = self.lot.cloths[key], self.markers[lay.mix]
        if cloth.laid != "open" or len(marker.problem.bands) > 1 or cloth.border or cloth.repeat_across:
            return cloth.width
        top = max(float(outline[:, 1].max()) for _, _, _, outline in marker.outlines())
        return cloth.width - max(0.0, marker.problem.bands[0].high - top)

    def without_roll(self, key: str) -> dict[int, list[float]]:
        """Length of every ply of one cloth for which there is no roll, mm, by the lay, counted from 0."""
        lays = [at for at, lay in enumerate(self.plan.lays) for _ in range(lay.plies.get(key, 0))]
        lengths, found = self.plies(key), defaultdict[int, list[float]](list)
        for ply in self.rolls[key].missing if key in self.rolls else ():
            found[lays[ply]].append(lengths[ply])
        return dict(found)
