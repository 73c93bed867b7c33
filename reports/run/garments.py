"""The garments of an order: drafted once for each size or client, and how many of each colour."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from pieces.body.body import Unmeasured
from pieces.errors import PieceError
from pieces.exchange.own.grading import read_grading
from reports.ask.clients import read_clients
from reports.ask.imported import IMPORTED
from reports.ask.one_draft import draft_for, draft_one
from reports.ask.sizes import sized, table_for
from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence

    from nesting.lays.order import ColourSize
    from pieces import PieceSet
    from reports.ask.order.order import Order


Kinds: TypeAlias = "Mapping[ColourSize, int]"
"""How many of each."""


@dataclass(frozen=True, eq=False)
class Sized:
    """The garment in one size: its pieces, and how many are ordered of each colour."""

    name: str
    pieces: PieceSet
    ordered: Mapping[str, int]


@dataclass(frozen=True, eq=False)
class Garments:
    """All that is ordered.

    Parameters
    ----------
    sizes
        In the order of their table, or the clients in that of their rows.
    colours
        In the order of the file.
    source
        Where the measurements come from.
    notes
        What the maker should know.
    left_out
        A line for each client whose row cannot be used: the others are made.
    """

    sizes: tuple[Sized, ...]
    colours: tuple[str, ...]
    source: str
    notes: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()

    @property
    def ordered(self) -> dict[ColourSize, int]:
        """How many by colour and size."""
        return {(colour, size.name): size.ordered.get(colour, 0) for colour in self.colours for size in self.sizes}


def draft_all(order: Order) -> Garments:
    """Draft the order's garment in every size that is ordered, or for every client.

    Raises
    ------
    JobError
        If a size is not in the table, or not one client's row can be used.
    PieceError
        If a size cannot be drafted: it is named.
    """
    if order.garment == IMPORTED:
        return _of_grading(order)
    return _of_clients(order) if order.clients is not None else _of_table(order)


def _of_table(order: Order) -> Garments:
    table = table_for(order, order.sizes or "", order.folder)
    notes: list[str] = []

    def drafted(size: str) -> PieceSet:
        job = sized(order, table, size).job
        notes.extend(f"size {size}: {remark}" for remark in job.measured().remarks(order.written_in))
        return draft_one(job)

    every, colours = _in_sizes(order, table.sizes, f"'{table.name}'", drafted)
    return Garments(every, colours, f"{table.title}: {table.source}", _told_once(notes))


def _of_grading(order: Order) -> Garments:
    grading = read_grading(order.folder / (order.grade_file or ""))
    pieces = draft_for(order, Unmeasured())
    every, colours = _in_sizes(order, grading.sizes, "the grade rules", lambda size: grading.sized(pieces, size))
    return Garments(every, colours, f"imported pieces in size {grading.base}: {grading.source}", grading.notes(pieces))


def _in_sizes(
    order: Order, sizes: Sequence[str], table: str, drafted: Callable[[str], PieceSet]
) -> tuple[tuple[Sized, ...], tuple[str, ...]]:
    """The garment in every size that is ordered, and the colours."""
    for by_size in order.quantity.values():
        for size in by_size:
            if size not in sizes:
                raise JobError(f"{order.name}: [quantity] unknown size '{size}': {table} has {', '.join(sizes)}")
    colours = tuple(colour for colour, by_size in order.quantity.items() if any(by_size.values()))
    every: list[Sized] = []
    for size in sizes:
        ordered = {colour: order.quantity[colour].get(size, 0) for colour in colours}
        if any(ordered.values()):
            try:
                every.append(Sized(size, drafted(size), ordered))
            except PieceError as error:
                raise PieceError(f"size {size}: {error}") from error
    return tuple(every), colours


def _of_clients(order: Order) -> Garments:
    shells = [cloth.colour for cloth in order.fabric if cloth.material == "shell"]
    known = tuple(dict.fromkeys(colour for colour in shells if colour)) if all(shells) else ()
    found = read_clients(order.folder / (order.clients or ""), order, known)
    left_out = tuple(str(bad) for bad in found.bad)
    if not found.good:
        raise JobError(f"{order.clients} has no usable row{': ' + left_out[0] if left_out else ''}")
    plain = next((cloth.colour for cloth in order.fabric if cloth.colour), None) or "as ordered"
    ordered = [(client, client.colour or plain) for client in found.good]
    colours = tuple(dict.fromkeys(colour for _, colour in ordered))
    every = tuple(Sized(client.name, client.pieces, {colour: client.quantity}) for client, colour in ordered)
    notes = [f"{client.name}: {note}" for client, _ in ordered for note in client.body.remarks(order.written_in)]
    return Garments(every, colours, f"measured clients, {order.clients}", _told_once(notes), left_out)


def _told_once(notes: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(notes))
