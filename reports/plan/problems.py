"""What is cut of one cloth, and the layout problem of it in each way that the cloth may lie."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.errors import NestingError, PieceTooWideError, SpreadError
from nesting.fit.remnant import around_faults
from nesting.folds.depth import fold_in_part, folded_at
from nesting.folds.fold_then_open import fold_then_open
from nesting.problem.lay import lay_mix
from reports.errors import JobError
from reports.plan.border import check_border
from reports.plan.piecing import ClothAcross

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.cloth.fabric import Fabric
    from nesting.cloth.spread import Spread
    from nesting.problem.problem import Problem
    from pieces import Piece, PieceSet
    from reports.ask.offer import FabricOffer
    from reports.ask.recipe import Recipe


def cut_from(offer: FabricOffer, made: Recipe, pieces: PieceSet) -> tuple[Piece, ...]:
    """The pieces that are cut of one cloth: as drafted, but for shapes that are wider than it, which are pieced."""
    return ClothAcross.of_offer(offer).pieced(whole_from(offer, made, pieces))


def whole_from(offer: FabricOffer, made: Recipe, pieces: PieceSet) -> tuple[Piece, ...]:
    """The pieces that are cut of one cloth, as drafted.

    Shell pieces that some shell cloth names are cut of that; lining and interfacing are cut again to the same
    outlines as the pieces they name.
    """
    try:
        named = tuple(pieces[name] for name in offer.pieces)
    except KeyError as error:
        raise JobError(f"{made.name}: [[fabric]] {offer.name}: {error.args[0]}") from error
    if not named:
        elsewhere = {n for other in made.fabric if other.material == offer.material for n in other.pieces}
        named = tuple(piece for piece in pieces.of(offer.material) if piece.name not in elsewhere)
    if not named:
        raise _nothing_cut(offer, made, pieces)
    _check_lies(offer, made, named)
    check_border(offer, f"{made.name}: [[fabric]] {offer.name}", named)
    return tuple(offer.allowed(piece) for piece in named)


def reason_alone(
    offer: FabricOffer, spread: Spread, whole: tuple[Piece, ...], garments: int, error: NestingError
) -> str:
    """Why a spread does not take the pieces that another one takes; with shapes that it would take in more parts.

    Parameters
    ----------
    whole
        The pieces as drafted.
    error
        Why it does not take them as they are pieced for the widest room that there is.
    """
    alone = offer.model_copy(update={"spread": spread})
    here, there = (ClothAcross.of_offer(one) for one in (offer, alone))
    mine, parts = here.parts(whole), there.parts(whole)
    otherwise = [name for name in mine if parts[name] != mine[name]]
    if not otherwise or not isinstance(error, PieceTooWideError):
        return str(error)
    told = " and ".join(f"'{name}' in {parts[name]} parts, not {mine[name]}" for name in otherwise)
    try:
        spread_problem(alone, alone.fabric(), spread, there.pieced(whole), garments)
    except NestingError as other:
        return f"it takes {told}; even so, {other}"
    return f'it takes {told}: write spread = "{spread}" to have it laid so'


def _nothing_cut(offer: FabricOffer, made: Recipe, pieces: PieceSet) -> JobError:
    known = [piece.name for piece in pieces]
    asks = any(option.name == offer.material for option in made.options())
    ask = f"ask for it by {offer.material} in [style], or " if asks else ""
    return JobError(
        f"{made.name}: [[fabric]] {offer.name}: no piece is cut from {offer.material}: {ask}name the pieces to cut,"
        f' such as pieces = ["{known[0]}"]; there are {", ".join(known)}'
    )


def _check_lies(offer: FabricOffer, made: Recipe, cut: Sequence[Piece]) -> None:
    """Make sure that each piece whose grain is asked for is cut of the cloth, and not on a fold."""
    of = {piece.name: piece for piece in cut}
    for name, grain in offer.lies:
        where = f"{made.name}: [[fabric]] {offer.name}: lies"
        if name not in of:
            raise JobError(f"{where}: no piece '{name}' is cut of this cloth: choose {', '.join(of)}")
        if offer.border_edge(of[name]):
            raise JobError(f"{where}: '{name}' lies with its edge on the border: leave it out of lies")
        if of[name].on_fold and grain != "straight":
            raise JobError(f"{where}: '{name}' is cut on a fold and lies straight along it: leave it out of lies")


def spread_problem(
    offer: FabricOffer,
    fabric: Fabric,
    spread: Spread,
    pieces: tuple[Piece, ...],
    garments: int,
    found: float | None = None,
    opened: Sequence[str] | None = None,
) -> tuple[float | None, Problem]:
    """How far the cloth is folded over, if it is in part, and the layout problem.

    Parameters
    ----------
    found
        A depth found before, mm, where none is given.
    opened
        Names of the pieces that were found to lie opened out behind the fold.
    """
    waste, depth = offer.waste_twins, offer.depth_of(spread)
    if spread == "part-folded" and depth is None and not offer.faults:
        if found is not None:
            return found, folded_at(found, pieces, fabric, garments=garments, waste_twins=waste)
        return fold_in_part(pieces, fabric, garments=garments, waste_twins=waste)
    if spread == "fold-then-open":
        if offer.faults:
            raise SpreadError(
                f"'{offer.name}' has faults: lay it open, or folded all along, not folded and then opened"
            )
        return None, fold_then_open(pieces, fabric, garments=garments, opened=opened)
    laid = [(pieces, garments)]
    problem = lay_mix(laid, fabric, spread, waste_twins=waste, depth=depth, plies=offer.plies)
    if offer.faults:
        problem = around_faults(problem, fabric, offer.faults, spread)
    return depth, problem
