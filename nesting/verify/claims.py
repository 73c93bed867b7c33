"""What a marker says of itself, held against what was asked and against its outlines: no figure is taken on trust."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from typing import TYPE_CHECKING

import numpy as np

from nesting.errors import CheckError
from nesting.tolerance import TOLERANCE
from nesting.verify.hands import hands_wanted
from pieces.units import bound_both, need_both

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from nesting.verify.asked import Asked
    from nesting.verify.cloth import LaidCloth, Region
    from nesting.verify.hands import Cut
    from nesting.verify.laid import Claims, LaidMarker, Strip, Told
    from nesting.verify.motion import LaidPiece
    from nesting.verify.shape import PieceShape
    from pieces import Piece

AGREES = 1e-6
"""Percent by which a density that is said may be off."""


def _check_length(lying: Sequence[LaidPiece], layout: LaidMarker) -> None:
    """Make sure that a marker ends where its last outline does."""
    end = max((float(one.laid.outline[:, 0].max()) for one in lying), default=0.0)
    if layout.length > end + TOLERANCE:
        raise CheckError(
            f"the file says the marker is {layout.length:.2f} mm long, but its last outline ends at {end:.2f} mm"
        )


def _check_start(lying: Sequence[LaidPiece], layout: LaidMarker, asked: Asked) -> None:
    """Make sure that it is said where a line of the pattern lies if pieces are matched along the cloth, else not."""
    is_matched = bool(asked.fabric.repeat_along) and any(one.shape.match is not None for one in lying)
    if is_matched and layout.start is None:
        raise CheckError("the marker does not say where on the cloth's pattern it begins")
    if layout.start is not None and not is_matched:
        raise CheckError("the marker says where on a pattern it begins, but no piece is matched to one along the cloth")


def check_claims(
    lying: Sequence[LaidPiece], cuts: Sequence[Cut], layout: LaidMarker, cloth: LaidCloth, asked: Asked
) -> None:
    """Make sure that all that a marker says of itself is so.

    Parameters
    ----------
    cuts
        Everything that is cut by its outlines.

    Raises
    ------
    CheckError
        At the first thing that is not; it says what was said, and what is so.
    """
    claims = layout.claims
    if claims is None:
        return
    _check_plain(claims.plain, cloth, asked)
    _check_length(lying, layout)
    _check_ends(lying, layout, cloth)
    _check_start(lying, layout, asked)
    _check_density(claims, layout, cloth, asked)
    _check_told(lying, cuts, claims.told, asked)


def _check_plain(said: Mapping[str, object], cloth: LaidCloth, asked: Asked) -> None:
    """Make sure of what is said of the cloth, of how it lies, and of the number of garments."""
    facts: dict[str, object] = {
        "fabric": asked.fabric.name,
        "spread": asked.spread,
        "width": cloth.width,
        "fold_depth": asked.depth if asked.spread == "part-folded" else None,
        "plies": asked.plies if asked.spread in ("face-up", "face-to-face") else 1,
        "garments": sum(number for _, number in asked.sets),
        "gap": asked.fabric.gap,
    }
    for what, value in said.items():
        if not _agree(value, facts[what]):
            raise CheckError(f"the marker says {what} {_shown(value)}, but it is {_shown(facts[what])}")


def _agree(said: object, fact: object) -> bool:
    if isinstance(said, float) and isinstance(fact, float):
        return abs(said - fact) <= TOLERANCE
    return said == fact


def _shown(value: object) -> str:
    if isinstance(value, float):
        return f"{value:.2f} mm"
    return "none" if value is None else f"'{value}'" if isinstance(value, str) else str(value)


def check_strips(cloth: LaidCloth, strips: Sequence[Strip], *, has_selvedges: bool) -> None:
    """Make sure that the strips of cloth a marker speaks of are those there are: each once, and nothing false of it."""
    selvedges = cloth.selvedges if has_selvedges else ()
    found = [_region(cloth, strip) for strip in strips]
    for region in cloth.regions if strips else ():
        if found.count(region) != 1:
            raise CheckError(f"the marker lists {region.name} {found.count(region)} times, not once")
    for strip, region in zip(strips, found, strict=True):
        facts = {
            "called": region.band,
            "mirrored": any(np.linalg.det(layer.linear) < 0 for layer in region.layers),
            "low_edge": _edge(region, region.low, selvedges),
            "high_edge": _edge(region, region.high, selvedges),
        }
        said = (strip.name, strip.mirrored, strip.low_edge, strip.high_edge)
        for (what, fact), value in zip(facts.items(), said, strict=True):
            if value != fact:
                raise CheckError(f"the marker says {what} {_shown(value)} for {region.name}, but it is {_shown(fact)}")


def _region(cloth: LaidCloth, strip: Strip) -> Region:
    for region in cloth.regions:
        is_there = abs(strip.low - region.low) <= TOLERANCE and abs(strip.high - region.high) <= TOLERANCE
        if is_there and strip.layers == len(region.layers):
            return region
    if len(cloth.regions) == 1 and strip.layers == len(cloth.regions[0].layers):
        asked, laid = (r.high - r.low for r in (strip, cloth.regions[0]))
        wrong = "narrower" if laid < asked else "wider"
        raise CheckError(
            f"the marker lists cloth of {need_both(asked)} to use across, and laid as asked there is"
            f" {bound_both(laid)}: {need_both(abs(asked - laid))} {wrong}"
        )
    there = ", ".join(f"{r.low:.2f} to {r.high:.2f} mm ({len(r.layers)})" for r in cloth.regions)
    raise CheckError(
        f"the marker lists cloth from {strip.low:.2f} to {strip.high:.2f} mm across (layers: {strip.layers}); laid "
        f"as asked, there is {there}"
    )


def _edge(region: Region, at: float, ends: Sequence[float]) -> str:
    """What lies along an edge of a region: a fold, a selvedge that ends a layer there, or neither."""
    if at in region.folds:
        return "fold"
    flat = [float(layer.to_cloth(np.array([[0.0, at]]))[0, 1]) for layer in region.layers]
    return "selvedge" if any(abs(v - end) <= TOLERANCE for v in flat for end in ends) else "free"


def _check_ends(lying: Sequence[LaidPiece], layout: LaidMarker, cloth: LaidCloth) -> None:
    """Make sure of where along the marker each strip begins and ends.

    Cloth that is opened out lies between the end of what was cut before and there in no certain way: the folded strip
    may end anywhere between.
    """
    for strip in layout.strips:
        region = _region(cloth, strip)
        ends = [float(one.laid.outline[:, 0].max()) for one in lying if one.region == region]
        least = region.last if region.last == layout.length else max(ends, default=region.first)
        if abs(strip.first - region.first) > TOLERANCE:
            raise CheckError(
                f"the marker says {region.name} begins at {strip.first:.2f} mm, but it begins at {region.first:.2f}"
            )
        if not least - TOLERANCE <= strip.last <= region.last + TOLERANCE:
            raise CheckError(
                f"the marker says {region.name} ends at {strip.last:.2f} mm, but it ends at {region.last:.2f}"
            )


def _check_density(claims: Claims, layout: LaidMarker, cloth: LaidCloth, asked: Asked) -> None:
    from nesting.verify.shape import PieceShape

    grown = math.prod(asked.growth)
    area = sum(
        _cloth_in(PieceShape.whole(piece)) * piece.cut * number * grown
        for pieces, number in asked.sets
        for piece in pieces
    )
    density = 100 * area / (layout.length * cloth.usable)
    if abs(density - claims.density) > AGREES:
        raise CheckError(f"the marker says {claims.density:.4f} % of the cloth is used, but it is {density:.4f} %")


def _cloth_in(shape: PieceShape) -> float:
    """The area of a piece without what is cut out of it, mm²."""
    import shapely

    cut_out = [shapely.Polygon(line).buffer(0) for line in shape.marks["cutout"] if len(line) > 2]
    return float(shapely.Polygon(shape.outline).difference(shapely.union_all(cut_out)).area)


def _check_told(lying: Sequence[LaidPiece], cuts: Sequence[Cut], told: Sequence[Told], asked: Asked) -> None:
    under: defaultdict[int, list[Cut]] = defaultdict(list)
    for cut in cuts:
        under[cut.outline].append(cut)
    for number, (one, said) in enumerate(zip(lying, told, strict=True)):
        _check_one(one, said, under[number])
    for pieces, garments in asked.sets:
        for piece in pieces:
            of_it = [said for one, said in zip(lying, told, strict=True) if one.piece is piece]
            _check_sums(piece, of_it, piece.cut * garments)


def _check_one(lying: LaidPiece, told: Told, cuts: Sequence[Cut]) -> None:
    """Make sure of what is said of one outline."""
    name, region = lying.piece.name, lying.region
    if told.band != region.band:
        raise CheckError(f"the marker says '{name}' lies on '{told.band}', but it lies on '{region.band}'")
    useful = sum(bool(cut.hands & set(hands_wanted(lying.piece))) for cut in cuts)
    if not 1 <= told.yields <= useful:
        raise CheckError(f"the marker says an outline of '{name}' gives {told.yields}, but it gives at most {useful}")
    wasted = " (twin wasted)" if told.yields < len(cuts) else ""
    items = [f"{name}{hand}{wasted}" for hand in _hands_named(lying.piece, cuts)]
    if told.item not in items:
        raise CheckError(f"the marker says an outline is '{told.item}', but it is '{items[0]}'")
    if told.grain is not None:
        off = float(np.abs(lying(np.array(lying.piece.grain)) - told.grain).max())
        if off > TOLERANCE:
            raise CheckError(f"the grainline of '{name}' is drawn {off:.2f} mm away from its place")


def _hands_named(piece: Piece, cuts: Sequence[Cut]) -> list[str]:
    """What may be said of the hand that an outline gives: of a pair the one that it is cut as, if it is one alone.

    Nothing need be said where all that is cut serves as either hand.
    """
    hands = {cut.is_cut_as[0] for cut in cuts}
    if not piece.mirrored_pair or len(hands) > 1:
        return [""]
    either = all(cut.hands >= set(hands_wanted(piece)) for cut in cuts)
    return [*(f" ({hand})" for hand in hands), *([""] if either else [])]


def _check_sums(piece: Piece, told: Sequence[Told], wanted: int) -> None:
    """Make sure that the outlines of a piece give together what is wanted, and are numbered through."""
    given = sum(said.yields for said in told)
    if given != wanted:
        raise CheckError(
            f"the marker says the outlines of '{piece.name}' give {given} together, but {wanted} are needed"
        )
    copies = Counter(said.copy for said in told if said.copy is not None)
    if copies and copies != Counter(range(1, len(told) + 1)):
        raise CheckError(f"the copies of '{piece.name}' are not numbered from 1 to {len(told)}, each once")
