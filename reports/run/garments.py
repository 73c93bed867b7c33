"""The garments of an order: drafted once for each size or client, and how many of each colour."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.errors import PieceError
from reports.clients import read_clients
from reports.errors import JobError
from reports.plan import draft_job
from reports.sizes import sized, table_for

if TYPE_CHECKING:
    from collections.abc import Iterable

    from pieces import PieceSet
    from pieces.sizes import SizeTable
    from reports.order import Order


Kind = tuple[str, str]
"""Colour and size of a garment."""

Kinds = Mapping[Kind, int]
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
    def ordered(self) -> dict[Kind, int]:
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
    return _of_clients(order) if order.clients is not None else _of_table(order)


def _of_table(order: Order) -> Garments:
    table = table_for(order.job(), order.sizes or "", order.folder)
    for by_size in order.quantity.values():
        for size in by_size:
            if size not in table.sizes:
                known = ", ".join(table.sizes)
                raise JobError(f"{order.name}: [quantity] unknown size '{size}': '{table.name}' has {known}")
    colours = tuple(colour for colour, by_size in order.quantity.items() if any(by_size.values()))
    every: list[Sized] = []
    notes: list[str] = []
    for size in table.sizes:
        ordered = {colour: order.quantity[colour].get(size, 0) for colour in colours}
        if any(ordered.values()):
            pieces, remarks = _drafted(order, table, size)
            every.append(Sized(size, pieces, ordered))
            notes += [f"size {size}: {remark}" for remark in remarks]
    return Garments(tuple(every), colours, f"{table.title}: {table.source}", _told_once(notes))


def _drafted(order: Order, table: SizeTable, size: str) -> tuple[PieceSet, list[str]]:
    """The pieces of one size, and remarks on it."""
    job = sized(order.job(), table, size).job
    try:
        return draft_job(job), job.measured().remarks(order.written_in)
    except PieceError as error:
        raise PieceError(f"size {size}: {error}") from error


def _of_clients(order: Order) -> Garments:
    found = read_clients(order.folder / (order.clients or ""), order.job())
    left_out = tuple(str(bad) for bad in found.bad)
    if not found.good:
        raise JobError(f"{order.clients} has no row that can be used{': ' + left_out[0] if left_out else ''}")
    plain = next((cloth.colour for cloth in order.fabric if cloth.colour), None) or "as ordered"
    ordered = [(client, client.colour or plain) for client in found.good]
    colours = tuple(dict.fromkeys(colour for _, colour in ordered))
    every = tuple(Sized(client.name, client.pieces, {colour: client.quantity}) for client, colour in ordered)
    notes = [f"{client.name}: {note}" for client, _ in ordered for note in client.body.remarks(order.written_in)]
    return Garments(every, colours, f"measured clients, {order.clients}", _told_once(notes), left_out)


def _told_once(notes: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(notes))
