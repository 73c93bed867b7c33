"""First plans for rib: long bands cut into full widths and a rest, all parts laid where they first fit."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from heapq import heappop, heappush
from typing import TYPE_CHECKING

from nesting.rib.task import BandPart, StripRow

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.rib.task import BandKind, RibTask


def cut_parts(task: RibTask) -> Iterator[BandPart]:
    """Every band as few parts: as many full widths as it holds, and the rest."""
    for index, kind in enumerate(task.kinds):
        lengths = part_lengths(task, kind)
        for copy in range(kind.count):
            joined = copy if len(lengths) > 1 else None
            yield from (BandPart(index, length, joined) for length in lengths)


def part_lengths(task: RibTask, kind: BandKind) -> list[int]:
    """A band in as few parts as can be: full widths, and a rest that is no shorter than a part may be."""
    pieces = task.fewest_parts(kind)
    rest = kind.length + (pieces - 1) * (task.join - task.width)
    lengths, short = [task.width] * (pieces - 1) + [rest], max(0, task.least - rest) if pieces > 1 else 0
    lengths[-1] += short
    for at in reversed(range(pieces - 1)):  # what the rest lacks comes from the others, as much as each can spare
        given = min(short, task.width - task.least)
        lengths[at] -= given
        short -= given
    return lengths


def first_fit(task: RibTask, parts: Sequence[BandPart]) -> list[StripRow]:
    """Deepest parts first, longest first, each in the first row with room."""
    rows: list[list[BandPart]] = []
    room: list[int] = []
    for part in sorted(parts, key=lambda part: (-task.kinds[part.kind].depth, -part.length)):
        at = next((i for i, left in enumerate(room) if part.length <= left), len(rows))
        if at == len(rows):
            rows.append([])
            room.append(task.width)
        rows[at].append(part)
        room[at] -= part.length
    return [StripRow(tuple(row)) for row in rows]


def next_fit(task: RibTask, parts: Sequence[BandPart]) -> list[StripRow]:
    """Deepest parts first, longest first, each in the last row or in a new one: for any number of them."""
    rows: list[list[BandPart]] = [[]]
    room = task.width
    for part in sorted(parts, key=lambda part: (-task.kinds[part.kind].depth, -part.length)):
        if part.length > room:
            rows.append([])
            room = task.width
        rows[-1].append(part)
        room -= part.length
    return [StripRow(tuple(row)) for row in rows]


def stack_rows(task: RibTask, rows: Sequence[StripRow]) -> list[StripRow]:
    """Rows put into strips, deepest first, each in the first strip with room; as they are where there are none."""
    rows = sorted(rows, key=lambda row: (-task.row_depth(row), -sum(part.length for part in row.parts)))
    if task.strip_depth is None:
        return list(rows)
    stacked, strips = [], 0
    free: dict[int, list[int]] = defaultdict(list)  # strips by the room in them, the first at the head of each heap
    for row in rows:
        depth = task.row_depth(row)
        rooms = [room for room, own in free.items() if own and depth <= room]
        room = min(rooms, key=lambda room: free[room][0], default=0)
        at = heappop(free[room]) if room else strips
        strips += not room
        heappush(free[(room or task.strip_depth) - depth], at)
        stacked.append(replace(row, strip=at))
    return sorted(stacked, key=lambda row: row.strip)
