"""The second count of a packet: begun from the order, the drafts and the placements, by code of its own."""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from typing import TYPE_CHECKING

import shapely

from reports.errors import CountError

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    import numpy as np
    from numpy.typing import NDArray

    from pieces import Piece
    from reports.ask.order.order import Order
    from reports.run.garments import Garments
    from reports.run.lay_marker import LayMarker
    from reports.run.packet.packet import LaySheet, Packet, RollSheet
    from reports.run.ribs import RibOf

EXACT = 0.01
"""Millimetres that two sums of the same lengths may differ by."""

ALIKE = 0.01
"""Share by which the area of an outline may differ from that of its piece."""


def recount(
    packet: Packet, order: Order, garments: Garments, lays: Sequence[LayMarker], ribs: Sequence[RibOf] = ()
) -> None:
    """Count everything on a packet again.

    Parameters
    ----------
    garments
        What was drafted of the order: pieces of each size, and how many are ordered.
    lays
        Of each only its plies and the outlines on its cloth are looked at.
    ribs
        Of each only the bands of its sizes are looked at.

    Raises
    ------
    CountError
        At the first number that is not what is counted; it says both.
    """
    if len(lays) != len(packet.lays):
        raise CountError(f"the packet has {len(packet.lays)} lays, and {len(lays)} are laid")
    for sheet, lay in zip(packet.lays, lays, strict=True):
        _lay(sheet, lay, order)
    _garments(packet, garments, lays)
    _rolls(packet, lays, order)
    _bundles(packet, lays)
    _ribs(packet, garments, ribs)
    _sums(packet, lays)
    _agree("plies in all", packet.plies, sum(sum(lay.plies.values()) for lay in lays))
    taken = sum(sum(lay.plies.values()) * (_end(lay) + 2 * _ends(lay)) for lay in lays)
    _agree("millimetres of cloth in all", packet.cloth, taken)
    pieces = sum(sum(lay.plies.values()) * sum(_pieces(lay).values()) for lay in lays)
    _agree("pieces in all", packet.pieces, pieces)


def _sums(packet: Packet, lays: Sequence[LayMarker]) -> None:
    """The sums that stand in the lists: of colours and sizes, of rolls, and of the bundles of each lay."""
    cut: Counter[str | None] = Counter()
    ordered: Counter[str | None] = Counter()
    for colour, size, asked, made in packet.lines:
        for kind in (f"colour {colour}", f"size {size}", None):
            cut[kind] += made
            ordered[kind] += asked
    kinds: dict[str | None, tuple[str | None, str | None]] = {None: (None, None)}
    kinds |= {f"colour {line.colour}": (line.colour, None) for line in packet.lines}
    kinds |= {f"size {line.size}": (None, line.size) for line in packet.lines}
    for kind, (one, other) in kinds.items():
        for what, said, counted in zip(("cut", "ordered"), packet.cut_of(one, other), (cut, ordered), strict=True):
            _agree(f"garments {what} of {kind or 'all'}", said, counted[kind])
    for sheet in packet.rolls:
        every = [line.each for line in sheet.lines for _ in line.plies]
        _agree(f"cuts of {sheet.cloth}, {sheet.words}", sheet.number, len(every))
        _agree(f"mm cut of {sheet.cloth}, {sheet.words}", sheet.length, float(sum(every)))
        for line in sheet.lines:
            together = float(sum(line.each for _ in line.plies))
            _agree(f"mm of lay {line.ticket} from {sheet.words}", line.length, together)
    for said_lay, lay in zip(packet.lays, lays, strict=True):
        name = f"lay {lay.ticket}"
        _agree(f"plies of {name}", said_lay.number, sum(lay.plies.values()))
        pieces = sum(_pieces(lay).values()) * sum(lay.plies.values())
        _agree(f"pieces in the bundles of {name}", packet.pieces_of(lay.ticket), pieces)


def _agree(what: str, said: float, counted: float) -> None:
    if abs(said - counted) > (EXACT if isinstance(counted, float) else 0):
        raise CountError(f"the packet says {said:g} {what}, but counted again there are {counted:g}")


def _end(lay: LayMarker) -> float:
    """Where the last outline of a marker ends, mm."""
    return max(float(outline[:, 0].max()) for _, _, _, outline in lay.marker.outlines())


def _ends(lay: LayMarker) -> float:
    return next(cloth.end_allowance for key, cloth in lay.lot.cloths.items() if key in lay.plies)


def _yield(outline: NDArray[np.float64], piece: Piece, lay: LayMarker) -> int:
    """Pieces that an outline gives in one ply: one in each layer of it, but of a half on a fold one in all.

    Counted from the piece as drafted and from how the order spreads the cloth. What the search says of it is not asked.
    """
    along, across = lay.asked.growth
    share = shapely.Polygon(outline).area / (shapely.Polygon(piece.unfolded).area * along * across)
    if abs(share - 1) < ALIKE:
        return lay.offer.layers
    if piece.on_fold and abs(share - 0.5) < ALIKE:
        return 1
    raise CountError(f"an outline on lay {lay.ticket} is neither all nor half of '{piece.name}'")


def _given(lay: LayMarker) -> Counter[str]:
    """How often each piece is cut in a ply, by its name; twins that are wasted among them."""
    drafted = {piece.name: piece for pieces in lay.lot.pieces.values() for piece in pieces}
    given: Counter[str] = Counter()
    for _, item, _, outline in lay.marker.outlines():
        assert item.piece is not None
        given[item.piece.name] += _yield(outline, drafted[item.piece.name], lay)
    return given


def _pieces(lay: LayMarker) -> Counter[str]:
    """Pieces that a ply gives, by size, without twins that are wasted."""
    given, whole = _given(lay), _whole(lay)
    return Counter(
        {size: sum(min(given[p.name], n * p.cut) for p in lay.lot.pieces[size]) for size, n in whole.items()}
    )


def _whole(lay: LayMarker) -> dict[str, int]:
    """Garments that a ply gives, by size: as many as there are whole sets of pieces.

    A wasted twin looks like a piece that is wanted. What outlines cannot settle for that reason is as the lay says.
    """
    given, found = _given(lay), {}
    for size, pieces in lay.lot.pieces.items():
        least, most = 0, sys.maxsize
        for piece in pieces:
            hands = 2 if piece.mirrored_pair else 1
            wasted = hands * (lay.offer.layers - 1) if lay.offer.waste_twins else 0
            least = max(least, -((wasted - given[piece.name]) // piece.cut))
            most = min(most, given[piece.name] // piece.cut)
        number = lay.garments.get(size, 0) if least < most else least
        if not least <= number <= most:
            raise CountError(f"lay {lay.ticket} has no whole sets of pieces of size {size}")
        if number:
            found[size] = number
    return found


def _lay(sheet: LaySheet, lay: LayMarker, order: Order) -> None:
    name = f"lay {lay.ticket}"
    if (sheet.ticket, sheet.part) != (lay.ticket, lay.lot.part):
        raise CountError(f"the packet says lay {sheet.ticket}, {sheet.part}, but {name}, {lay.lot.part}, comes there")
    if dict(sheet.plies) != dict(lay.plies):
        raise CountError(f"the packet says plies {dict(sheet.plies)} for {name}, but they are {dict(lay.plies)}")
    if dict(sheet.garments) != _whole(lay):
        raise CountError(f"the packet says {dict(sheet.garments)} on {name}, but its outlines give {_whole(lay)}")
    if dict(sheet.pieces) != dict(_pieces(lay)):
        raise CountError(
            f"the packet says pieces {dict(sheet.pieces)} on {name}, but its outlines give {dict(_pieces(lay))}"
        )
    _agree(f"mm of marker on {name}", sheet.marker, _end(lay))
    _agree(f"mm of ply on {name}", sheet.ply, _end(lay) + 2 * _ends(lay))
    longest = max(order.cutting.table, *order.cutting.other_tables, 0)
    if sheet.ply > longest + EXACT:
        raise CountError(f"a ply of {name} is {sheet.ply:.1f} mm long, and the longest table {longest:.1f}")


def _garments(packet: Packet, garments: Garments, lays: Sequence[LayMarker]) -> None:
    """What is ordered, and what is cut of each part of the garment."""
    asked = {(colour, one.name): n for one in garments.sizes for colour, n in one.ordered.items() if n}
    said = {(line.colour, line.size): line.ordered for line in packet.lines if line.ordered}
    if asked != said:
        wrong = next(kind for kind in (*asked, *said) if asked.get(kind, 0) != said.get(kind, 0))
        raise CountError(
            f"the packet says {said.get(wrong, 0)} of {wrong[0]}, size {wrong[1]}, are ordered, but the order has"
            f" {asked.get(wrong, 0)}"
        )
    cut = {(line.colour, line.size): line.cut for line in packet.lines}
    _agree("garments ordered", packet.ordered, sum(asked.values()))
    _agree("garments cut", packet.cut, sum(cut.values()))
    given: Counter[tuple[str, str, str]] = Counter()
    stands: dict[tuple[str, str], tuple[str, ...]] = {}
    for lay in lays:
        for key, plies in lay.plies.items():
            stands[lay.lot.part, key] = lay.lot.stands_for[key]
            for size, number in _whole(lay).items():
                given[lay.lot.part, key, size] += number * plies
    for (part, key), colours in stands.items():
        for size in {size for _, size in cut}:
            wanted = sum(cut.get((colour, size), 0) for colour in colours)
            if given[part, key, size] != wanted:
                raise CountError(
                    f"the packet says {wanted} of {', '.join(colours)}, size {size}, are cut, but the lays of {part}"
                    f" give {given[part, key, size]}"
                )


def _rolls(packet: Packet, lays: Sequence[LayMarker], order: Order) -> None:
    """Every ply is cut once, as long as it is laid; and what is left of each roll."""
    taken: defaultdict[tuple[str, str, int, int], list[float]] = defaultdict(list)
    for sheet in packet.rolls:
        for line in sheet.lines:
            for ply in line.plies:
                taken[sheet.part, sheet.key, line.ticket, ply].append(line.each)
        _roll(sheet, order)
    for lay in lays:
        ply, length = 0, _end(lay) + 2 * _ends(lay)
        for key, number in lay.plies.items():
            for _ in range(number):
                ply += 1
                cuts = taken.pop((lay.lot.part, key, lay.ticket, ply), [])
                if sum(cuts) < length - EXACT:
                    which = f"ply {ply} of lay {lay.ticket}"
                    raise CountError(f"the packet cuts {sum(cuts):.1f} mm for {which}, and it takes {length:.1f}")
    if taken:
        part, key, ticket, ply = next(iter(taken))
        raise CountError(f"the packet cuts a ply {ply} of {key} for lay {ticket}, {part}: there is none")


def _roll(sheet: RollSheet, order: Order) -> None:
    """A roll holds what the order says, and what is left of it is what is not cut."""
    if sheet.holds is None or sheet.left is None:
        return
    rolls = next(one.rolls for one in order.fabric if one.name == sheet.cloth and (one.colour or one.name) == sheet.key)
    if not 1 <= sheet.roll <= len(rolls):
        raise CountError(f"the packet has roll {sheet.roll} of {sheet.cloth}, and the order {len(rolls)} rolls")
    roll = rolls[sheet.roll - 1]
    _agree(f"mm on roll {sheet.roll} of {sheet.cloth}", sheet.holds, float(roll.length))
    cut = sum(line.each * len(line.plies) for line in sheet.lines)
    if cut > sheet.holds + EXACT:
        raise CountError(
            f"the packet cuts {cut:.1f} mm of roll {sheet.roll} of {sheet.cloth}: it holds {sheet.holds:.1f}"
        )
    holds = sheet.holds - sum(flaw.length for flaw in roll.flaws)
    _agree(f"mm left of roll {sheet.roll} of {sheet.cloth}", sheet.left, max(0.0, float(holds - cut)))


def _bundles(packet: Packet, lays: Sequence[LayMarker]) -> None:
    """Every ply of every size is in one bundle, with as many pieces as its outlines give."""
    by_ticket = {lay.ticket: (lay, _whole(lay), _pieces(lay)) for lay in lays}
    seen: Counter[tuple[int, int, str]] = Counter()
    for bundle in packet.bundles:
        if bundle.ticket not in by_ticket:
            raise CountError(f"the packet has a bundle of lay {bundle.ticket}, and there is none")
        lay, garments, pieces = by_ticket[bundle.ticket]
        cloths = [key for key, number in lay.plies.items() for _ in range(number)]
        name = f"the bundle of size {bundle.size}, {bundle.key}, of lay {bundle.ticket}"
        if any(not 1 <= ply <= len(cloths) or cloths[ply - 1] != bundle.key for ply in bundle.plies):
            raise CountError(f"{name} has a ply that is not of {bundle.key}")
        _agree(f"garments in {name}", bundle.garments, garments.get(bundle.size, 0) * len(bundle.plies))
        _agree(f"pieces in {name}", bundle.pieces, pieces[bundle.size] * len(bundle.plies))
        rolls = _rolls_of(packet, bundle.part, bundle.key, bundle.ticket, bundle.plies)
        if rolls != {bundle.rolls}:
            raise CountError(f"{name} says {bundle.rolls}, but its plies are of {'; '.join(sorted(rolls))}")
        seen.update((bundle.ticket, ply, bundle.size) for ply in bundle.plies)
    for ticket, (lay, garments, _) in by_ticket.items():
        for ply in range(1, sum(lay.plies.values()) + 1):
            for size in garments:
                if seen[ticket, ply, size] != 1:
                    raise CountError(f"ply {ply} of lay {ticket}, size {size}, is in {seen[ticket, ply, size]} bundles")


def _rolls_of(packet: Packet, part: str, key: str, ticket: int, plies: Sequence[int]) -> set[str]:
    """The rolls of some plies, as they are called: one name if all are of the same."""
    of_ply: defaultdict[int, list[str]] = defaultdict(list)
    for sheet in packet.rolls:
        for line in sheet.lines:
            if (sheet.part, sheet.key, line.ticket) == (part, key, ticket):
                for ply in line.plies:
                    of_ply[ply].append(sheet.words)
    return {" and ".join(of_ply[ply]) for ply in plies}


def _ribs(packet: Packet, garments: Garments, ribs: Sequence[RibOf]) -> None:
    """As many bands as the garments that are cut have by their drafts; a join fewer than parts in each."""
    cut = {(line.colour, line.size): line.cut for line in packet.lines}
    bands_each: Mapping[str, int] = {
        one.name: sum(piece.cut for piece in one.pieces.of("rib")) for one in garments.sizes
    }
    for said, of in zip(packet.ribs, ribs, strict=True):
        wanted = sum(n * bands_each[size] for (colour, size), n in cut.items() if colour in of.colours)
        _agree(f"bands of {said.name}", said.bands, wanted)
        _agree(f"parts of {said.name}", said.parts, len(of.plan.cuts))
        _agree(f"joins of {said.name}", said.joins, said.parts - said.bands)
