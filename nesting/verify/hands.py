"""What is cut, counted layer by layer: every layer under every outline is a piece of cloth with a hand and a grain."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from itertools import combinations
from typing import TYPE_CHECKING, Literal, NamedTuple, TypeVar

import numpy as np

from nesting.errors import CheckError
from nesting.tolerance import TOLERANCE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from numpy.typing import NDArray

    from nesting.verify.asked import Asked
    from nesting.verify.cloth import Layer
    from nesting.verify.motion import LaidPiece
    from nesting.verify.shape import PieceShape
    from pieces import Piece

Hand = Literal["left", "right"]
"""As drafted, or its mirror image."""

ArrowedHand = tuple[Hand, bool]
"""A hand, and whether the grainline's arrow points along the cloth (the top to its start) or against it."""

Use = TypeVar("Use", Hand, ArrowedHand)

HANDS: tuple[Hand, Hand] = ("left", "right")

STEPS = {"straight": 180.0, "cross": 90.0, "free": 45.0}
"""Degrees from one direction that a grainline may have to the next, by how strictly a piece keeps to the grain."""


class Cut(NamedTuple):
    """One piece of cloth: the outline it is cut by, the number of that, its layer, what it is, and can be used as."""

    lying: LaidPiece
    outline: int
    layer: Layer
    is_cut_as: ArrowedHand
    cells: frozenset[ArrowedHand]

    @property
    def hands(self) -> frozenset[Hand]:
        """As which hands it can be used."""
        return frozenset(hand for hand, _ in self.cells)


def hands_wanted(piece: Piece) -> dict[Hand, int]:
    """How often a garment takes each hand of a piece."""
    return {"left": piece.cut // 2, "right": piece.cut // 2} if piece.mirrored_pair else {"left": piece.cut}


def all_cuts(laid: Iterable[LaidPiece], asked: Asked) -> Iterator[Cut]:
    """Everything that is cut; a half on a fold gives one piece, however many layers the fold joins.

    Raises
    ------
    CheckError
        If a piece that is wanted lies off the grain by more than it tolerates.
    """
    for number, lying in enumerate(laid):
        layers = lying.region.layers
        for layer in layers[:1] if lying.laid.on_fold else layers:
            turned = layer.linear @ lying.turned
            yield Cut(lying, number, layer, _cell(turned, lying.whole), _usable_as(lying, layer, turned, asked))


def _cell(turned: NDArray[np.float64], shape: PieceShape) -> ArrowedHand:
    return "left" if np.linalg.det(turned) > 0 else "right", bool((turned @ shape.grain)[0] > 0)


def _usable_as(lying: LaidPiece, layer: Layer, as_cut: NDArray[np.float64], asked: Asked) -> frozenset[ArrowedHand]:
    """Hands and directions of the nap that a piece of cloth can serve as with its grain along the cloth.

    A piece that is its own image, turned or turned over, can be taken either way about.
    """
    piece, shape = lying.piece, lying.whole
    useful = hands_wanted(piece)
    on_border = bool(asked.fabric.border and piece.border)
    step = STEPS["cross" if on_border else "straight" if asked.fabric.nap else piece.lies]
    tilt = 0.0 if lying.laid.on_fold or on_border else piece.tilt
    reach = float(np.hypot(*np.ptp(shape.outline, axis=0)))
    found: set[ArrowedHand] = set()
    least = math.inf
    for image in shape.own_images:
        turned = as_cut @ image.turned
        along, across = turned @ shape.grain
        hand, points = _cell(turned, shape)
        off = abs(math.remainder(math.degrees(math.atan2(across, along)), step))
        if hand in useful:
            least = min(least, off)
        if off <= tilt or reach * math.sin(math.radians(off - tilt)) <= TOLERANCE:
            found.add((hand, points))
    if not found and least < math.inf:
        where = "" if len(lying.region.layers) == 1 else f" in {layer.name}"
        allowed = f"; {tilt:g}° is allowed" if tilt else ""
        raise CheckError(f"'{piece.name}' lies {least:.4g}° off the grain{where}{allowed}")
    hand, _ = _cell(as_cut, shape)
    return frozenset(found) or frozenset({(hand, True), (hand, False)})


def check_counts(cuts: Sequence[Cut], asked: Asked) -> None:
    """Make sure that each hand of each piece is cut as often as it is wanted, and no twin is wasted unasked."""
    by_piece: defaultdict[str, list[Cut]] = defaultdict(list)
    for cut in cuts:
        by_piece[cut.lying.piece.name].append(cut)
    for pieces, garments in asked.sets:
        for piece in pieces:
            wanted = {hand: number * garments for hand, number in hands_wanted(piece).items()}
            _check_piece(piece, by_piece[piece.name], wanted, asked)


def _check_piece(piece: Piece, cuts: Sequence[Cut], wanted: Mapping[Hand, int], asked: Asked) -> None:
    there = Counter(cut.hands for cut in cuts)
    told = _told(piece, there, wanted)
    if is_short(there, wanted):
        raise CheckError(f"'{piece.name}' is cut {told}")
    if len(cuts) == sum(wanted.values()):
        return
    if not asked.waste_twins:
        raise CheckError(f"'{piece.name}' is cut {told}: the extra pieces would be wasted, and waste_twins is not set")
    if _too_many(cuts, wanted, asked):
        raise CheckError(f"'{piece.name}' is cut {told}: an outline could be left out")


def _too_many(cuts: Sequence[Cut], wanted: Mapping[Hand, int], asked: Asked) -> bool:
    """Whether more is wasted than the last outline of each kind: of each hand, and of each direction on the nap."""
    outlines: defaultdict[int, list[Cut]] = defaultdict(list)
    for cut in cuts:
        outlines[cut.outline].append(cut)
    useful, rest = 0, {}
    for under in outlines.values():
        _, points = under[0].is_cut_as
        serves = [
            any(hand in wanted and (way == points or not asked.fabric.nap) for hand, way in cut.cells) for cut in under
        ]
        useful += sum(serves)
        rest[tuple(cut.is_cut_as for cut in under)] = sum(serves) - 1
    return useful - sum(wanted.values()) > sum(rest.values())


def _told(piece: Piece, there: Mapping[frozenset[Hand], int], wanted: Mapping[Hand, int]) -> str:
    if there and all(len(hands) == 2 for hands in there):
        number = sum(there.values())
        return f"{number} time{'s' * (number != 1)}, needed {sum(wanted.values())}"
    names = ("left", "right") if piece.mirrored_pair else ("as drafted", "as its mirror image")
    cut = " and ".join(
        f"{sum(n for hands, n in there.items() if hand in hands)} {name}"
        for hand, name in zip(HANDS, names, strict=True)
    )
    need = " and ".join(f"{wanted[hand]} {name}" for hand, name in zip(HANDS, names, strict=True) if hand in wanted)
    return f"{cut}, needed {need}"


def is_short(there: Mapping[frozenset[Use], int], wanted: Mapping[Use, int]) -> bool:
    """Whether what is there, each of which can be used in one of some ways, does not do for what is wanted.

    It does if, and only if, for any of the uses together enough is there that can be used in one of them (the
    marriage theorem of P. Hall, 1935).
    """
    uses = [use for use, number in wanted.items() if number]
    return any(
        sum(wanted[use] for use in some) > sum(number for can, number in there.items() if can & set(some))
        for size in range(1, len(uses) + 1)
        for some in combinations(uses, size)
    )


def check_nap(cuts: Sequence[Cut], asked: Asked) -> None:
    """Make sure that the tops of all pieces point one way, or those of each garment."""
    if not asked.fabric.nap:
        return
    ways = {True, False}
    for pieces, garments in asked.sets:
        numbers = set(range(garments + 1)) if asked.fabric.nap == "by garment" else {0, garments}
        for piece in pieces:
            there = Counter(cut.cells for cut in cuts if cut.lying.piece.name == piece.name)
            numbers = {n for n in numbers if not is_short(there, _cells(piece, n, garments - n))}
            if not numbers:
                raise CheckError(_against(piece, cuts, asked))
        if asked.fabric.nap != "by garment":
            ways &= {n == garments for n in numbers}
            if not ways:
                raise CheckError(_against(pieces[0], cuts, asked))


def _cells(piece: Piece, along: int, against: int) -> dict[ArrowedHand, int]:
    wanted: dict[ArrowedHand, int] = {}
    for hand, number in hands_wanted(piece).items():
        wanted |= {(hand, True): number * along, (hand, False): number * against}
    return wanted


def _against(piece: Piece, cuts: Sequence[Cut], asked: Asked) -> str:
    if asked.fabric.nap == "by garment":
        return f"the pieces of one garment point both ways on the nap: '{piece.name}' does not match the others"
    points = [{along for _, along in cut.cells} for cut in cuts]
    usual = sum(way == {True} for way in points) >= sum(way == {False} for way in points)
    wrong = next((cut for cut, way in zip(cuts, points, strict=True) if usual not in way), None)
    if wrong is None:
        return f"'{piece.name}' lies against the nap"
    where = "" if len(wrong.lying.region.layers) == 1 else f" in {wrong.layer.name}"
    return f"'{wrong.lying.piece.name}' lies against the nap{where}: its top points the opposite way to those before it"
