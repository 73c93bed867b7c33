"""Bands laid end to end over the rows of a cluster: what does not fit a row goes on in a later one, joined."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from nesting.rib.task import BandPart, StripRow
from nesting.rib.work import RibWork

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.rib.joined.clusters import Cluster
    from nesting.rib.task import BandKind, RibTask

MOST_STEPS = 2_000
"""Ways to fill a row that are tried for one cluster, at each attempt and for each unit of effort."""

MOST_LOOKED = 1_000_000
"""Ways to fill a row with whole bands that are looked at by all chains together."""

ATTEMPTS = ((True, 1), (False, 1), (False, 2))
"""Whether joins at places come before all else, and how many bands may be begun at once."""


@dataclass(frozen=True)
class _Begun:
    """A band begun in an earlier row: its kind, what is left of it, and which joined copy it is."""

    kind: int
    length: int
    copy: int


@dataclass(frozen=True)
class _State:
    """What is still to be laid: bands of each kind, and the rest of those begun; and the joins that may be made."""

    left: tuple[int, ...]
    begun: tuple[_Begun, ...]
    joins: int

    @property
    def key(self) -> tuple[object, ...]:
        """The same for states that differ in the names of copies alone."""
        return self.left, self.joins, *sorted((band.kind, band.length) for band in self.begun)


@dataclass(frozen=True)
class _Fill:
    """One way to fill a row: its parts, what is left after it, the width wasted, and joins that miss every place."""

    parts: tuple[BandPart, ...]
    after: _State
    waste: int
    missed: int = 0


class Chain:
    """The search for an order of bands, row by row, that takes no more joins than allowed.

    Parameters
    ----------
    task, cluster
        What is wanted of it, in which rows.
    joins
        Joins allowed.
    effort
        Work that may be spent.
    work
        Ways to fill a row that may be looked at; many chains may share them.
    """

    def __init__(self, task: RibTask, cluster: Cluster, joins: int, effort: float, work: RibWork | None = None) -> None:
        self.work = work or RibWork(MOST_LOOKED)
        self.task, self.cluster, self.joins = task, cluster, joins
        self.levels = [task.depths.index(kind.depth) for kind in task.kinds]
        self.failed: set[tuple[object, ...]] = set()
        self.steps, self.most_begun = 0, 1
        self.most_steps = round(MOST_STEPS * effort)

    def rows(self) -> list[StripRow] | None:
        """A row for each of the cluster's, as far as they are needed; None if no order was found.

        A joined copy has the number of the row it begins in.
        """
        for placed, self.most_begun in ATTEMPTS:
            self.failed.clear()
            self.steps = 0
            fills = self._lay(0, _State(self.cluster.counts, (), self.joins), placed)
            if fills is not None:
                return [StripRow(fill.parts) for fill in fills]
        return None

    def _lay(self, at: int, state: _State, placed: bool) -> list[_Fill] | None:
        if not any(state.left) and not state.begun:
            return []
        if at == len(self.cluster.rows) or (at, *state.key) in self.failed or not self._has_room(at, state):
            return None
        fills = sorted(
            self._fills(at, state),
            key=lambda fill: (fill.missed if placed else 0, fill.waste, fill.missed, len(fill.after.begun)),
        )
        for fill in fills:
            self.steps += 1
            if self.steps > self.most_steps:
                return None
            rest = self._lay(at + 1, fill.after, placed)
            if rest is not None:
                return [fill, *rest]
        self.failed.add((at, *state.key))
        return None

    def _has_room(self, at: int, state: _State) -> bool:
        """Whether the rows from here on are long enough, for all bands and for the deep ones alone."""
        need = [n * kind.length for n, kind in zip(state.left, self.task.kinds, strict=True)]
        for band in state.begun:
            need[band.kind] += band.length
        return all(
            sum(length for length, own in zip(need, self.levels, strict=True) if own <= level)
            <= self.task.width * sum(row <= level for row in self.cluster.rows[at:])
            for level in range(len(self.task.depths))
        )

    def _fills(self, at: int, state: _State) -> Iterator[_Fill]:
        """Ways to fill a row: begun bands end or wait, others lie beside them whole, one may begin or go on."""
        for ended in range(2 ** len(state.begun)):
            ending = tuple(band for i, band in enumerate(state.begun) if ended >> i & 1)
            waiting = tuple(band for i, band in enumerate(state.begun) if not ended >> i & 1)
            room = self.task.width - sum(band.length for band in ending)
            if room < 0:
                continue
            parts = tuple(BandPart(band.kind, band.length, band.copy) for band in ending)
            for taken, left, spare in self._wholes(at, state.left, room, 0):
                beside = (*parts, *taken)
                if all(self._may_lie(band.kind, at + 1) for band in waiting):
                    yield _Fill(beside, _State(left, waiting, state.joins), spare)
                if state.joins:
                    yield from self._begin(at, beside, _State(left, waiting, state.joins - 1), spare)
                    yield from self._go_on(at, beside, _State(left, waiting, state.joins - 1), spare)

    def _begin(self, at: int, beside: tuple[BandPart, ...], state: _State, room: int) -> Iterator[_Fill]:
        """A band begins in what room is left."""
        if len(state.begun) >= self.most_begun or room < self.task.least:
            return
        for index, kind in enumerate(self.task.kinds):
            if not (state.left[index] and self._may_lie(index, at) and self._may_lie(index, at + 1)):
                continue
            left = tuple(n - (i == index) for i, n in enumerate(state.left))
            for length, missed in self._beginnings(kind, room):
                rest = _Begun(index, kind.length + self.task.join - length, at)
                after = _State(left, (*state.begun, rest), state.joins)
                yield _Fill((*beside, BandPart(index, length, at)), after, room - length, missed)

    def _go_on(self, at: int, beside: tuple[BandPart, ...], state: _State, room: int) -> Iterator[_Fill]:
        """A band begun before fills what room is left, and is not yet at its end."""
        for band in state.begun:
            length = min(room, band.length + self.task.join - self.task.least)
            if length >= self.task.least and self._may_lie(band.kind, at + 1):
                rest = _Begun(band.kind, band.length + self.task.join - length, band.copy)
                others = tuple(other for other in state.begun if other is not band)
                after = _State(state.left, (*others, rest), state.joins)
                yield _Fill((*beside, BandPart(band.kind, length, band.copy)), after, room - length, 1)

    def _may_lie(self, kind: int, row: int) -> bool:
        return row < len(self.cluster.rows) and self.levels[kind] >= self.cluster.rows[row]

    def _wholes(
        self, at: int, left: tuple[int, ...], room: int, kind: int
    ) -> Iterator[tuple[tuple[BandPart, ...], tuple[int, ...], int]]:
        """Whole bands beside one another, what is left of each kind, and what room."""
        if kind == len(left):
            if self.work.spend():
                yield (), left, room
            return
        length = self.task.kinds[kind].length
        most = min(left[kind], room // length) if self._may_lie(kind, at) else 0
        for number in range(most, -1, -1):
            if self.work.is_spent:
                return
            after = (*left[:kind], left[kind] - number, *left[kind + 1 :])
            for taken, rest, room_left in self._wholes(at, after, room - number * length, kind + 1):
                yield (*[BandPart(kind, length)] * number, *taken), rest, room_left

    def _beginnings(self, kind: BandKind, room: int) -> Iterator[tuple[int, int]]:
        """How much of a band may lie at the end of a row, and whether its join misses every place."""
        task = self.task
        sewn, most = kind.length - task.join, min(room, kind.length + task.join - task.least)
        placed = {end + task.join for place in kind.places for end in (place, sewn - place)}
        if most >= task.least and most not in placed:
            yield most, int(bool(kind.places))
        yield from ((length, 0) for length in sorted(placed) if task.least <= length <= most)
