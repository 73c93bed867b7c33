"""The verdict on a marker: what holds, one thing after another, up to the first that does not."""

from __future__ import annotations

import math
from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from nesting.errors import CheckError, WrongMarkerError
from nesting.tolerance import TOLERANCE
from nesting.verify.asked import Asked
from nesting.verify.claims import check_claims, check_strips
from nesting.verify.clear import check_clear, check_flaws, check_valid
from nesting.verify.cloth import cloth_of
from nesting.verify.hands import all_cuts, check_counts, check_nap, hands_wanted
from nesting.verify.laid import LaidMarker
from nesting.verify.motion import PieceShapes
from nesting.verify.places import check_border, check_on_fold, check_pattern, region_of
from pieces.units import percent_reached

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from nesting.cloth.fabric import Fabric
    from nesting.marker.marker import Marker
    from nesting.verify.hands import Cut
    from nesting.verify.motion import LaidPiece
    from pieces import Piece


class Holds(NamedTuple):
    """Something that holds: in a word, and how it was seen."""

    what: str
    seen: str


def verify(
    marker: Marker,
    pieces: Sequence[Piece],
    fabric: Fabric,
    spread: str,
    *,
    garments: int = 1,
    waste_twins: bool = False,
    depth: float | None = None,
    plies: int = 2,
    flaws: Sequence[tuple[float, float, float, float]] = (),
    length: float | None = None,
    has_selvedges: bool = True,
) -> None:
    """Make sure that a marker gives what was asked for, starting from the pieces as drafted and the cloth.

    Parameters
    ----------
    pieces
        All that is cut of this cloth for one garment, as drafted.
    fabric, spread
        The cloth, and how it lies on the table.
    garments, waste_twins, depth, plies, flaws, length, has_selvedges
        As of `Asked`.

    Raises
    ------
    WrongMarkerError
        At the first thing that is wrong: a fault of this program, never of who asked.
    """
    asked = Asked.of(
        pieces,
        fabric,
        spread,
        garments=garments,
        waste_twins=waste_twins,
        depth=depth,
        plies=plies,
        flaws=flaws,
        length=length,
        has_selvedges=has_selvedges,
    )
    verify_asked(marker, asked)


def verify_asked(marker: Marker | LaidMarker, asked: Asked) -> None:
    """The same, of garments of several sizes."""
    try:
        for _ in holding(marker if isinstance(marker, LaidMarker) else LaidMarker.of(marker), asked):
            pass
    except CheckError as error:
        raise WrongMarkerError(str(error)) from error


def holding(layout: LaidMarker, asked: Asked) -> Iterator[Holds]:
    """Everything that holds of a layout, one thing after another.

    Raises
    ------
    CheckError
        At the first thing that does not hold; it names the piece and by how much.
    """
    cloth = cloth_of(asked, _checked_length(layout, asked), layout.opened)
    check_strips(cloth, layout.strips, has_selvedges=asked.has_selvedges)
    across = max(region.high for region in cloth.regions)
    yield Holds("cloth", f"lies {asked.spread}, {layout.length:.1f} mm long, usable up to {across:.1f} mm across")
    regions = [region_of(cloth, laid) for laid in layout.laid]
    yield Holds("places", f"{len(regions)} outlines lie on usable cloth, within the marker's length")
    shapes = PieceShapes(asked)
    for laid in layout.laid:
        check_valid(laid)
    lying = [shapes.find(laid, region) for laid, region in zip(layout.laid, regions, strict=True)]
    marked = "" if not any(laid.marks for laid in layout.laid) else ", with marks and cutouts"
    grown = " enlarged for shrinkage" if max(asked.growth) > 1 else ""
    yield Holds("outlines", f"each is that of its piece or the mirror image{grown}, to {TOLERANCE:g} mm{marked}")
    cuts = list(all_cuts(lying, asked))
    yield from _cut_pieces(cuts, asked)
    for one in lying:
        check_on_fold(one)
    halves = sum(one.laid.on_fold for one in lying)
    lie = "1 half lies with its" if halves == 1 else f"{halves} halves lie with their"
    yield Holds("fold", f"{lie} fold edge on a fold" if halves else "no halves on a fold")
    yield from _pattern(lying, layout, asked)
    bordered = check_border(lying, asked)
    if bordered:
        yield Holds("border", f"{bordered} outlines lie with their edge on it")
    check_clear(lying, asked)
    yield Holds("apart", _kept_apart(asked.fabric.gap))
    check_flaws(lying, asked)
    if asked.flaws:
        number = len(asked.flaws)
        yield Holds(
            "faults", f"no piece covers {'the fault' if number == 1 else f'any of the {number} faults'}, in any layer"
        )
    check_claims(lying, cuts, layout, cloth, asked)
    if layout.claims:
        used = percent_reached(layout.claims.density / 100)
        yield Holds(
            "figures", f"length, {used} used, garments, edges and the yield of each outline are as the marker says"
        )


def _checked_length(layout: LaidMarker, asked: Asked) -> float:
    if not (0 < layout.length < math.inf):
        raise CheckError(f"a marker cannot be {layout.length} mm long")
    if asked.length is not None and layout.length > asked.length + TOLERANCE * 1.001:
        raise CheckError(f"the marker is {layout.length:.2f} mm long, but the cloth is {asked.length:.2f}")
    if layout.gap < asked.fabric.gap - TOLERANCE:
        raise CheckError(f"the marker keeps {layout.gap:.2f} mm between outlines instead of {asked.fabric.gap:.2f}")
    return layout.length


def _cut_pieces(cuts: Sequence[Cut], asked: Asked) -> Iterator[Holds]:
    yield Holds(
        "grain", f"as each of {len(cuts)} cut pieces may lie to the grain, in every layer, within its allowed tilt"
    )
    check_counts(cuts, asked)
    yield Holds("counts", "; ".join(_counted(cuts, asked)))
    check_nap(cuts, asked)
    if asked.fabric.nap:
        of_each = " of each garment" if asked.fabric.nap == "by garment" else ""
        yield Holds("nap", f"the tops of all pieces{of_each} point one way in every layer")


def _counted(cuts: Sequence[Cut], asked: Asked) -> Iterator[str]:
    number = Counter(cut.lying.piece.name for cut in cuts)
    for pieces, garments in asked.sets:
        for piece in pieces:
            hands = hands_wanted(piece)
            times = " + ".join(f"{n * garments} {hand}" for hand, n in hands.items() if len(hands) > 1)
            over = number[piece.name] - piece.cut * garments
            wasted = f" ({over} twins wasted)" if over else ""
            yield f"{piece.name} {times or piece.cut * garments}{wasted}"


def _pattern(lying: Sequence[LaidPiece], layout: LaidMarker, asked: Asked) -> Iterator[Holds]:
    check_pattern(lying, cloth_of(asked, layout.length, layout.opened), asked, layout.start)
    matched = sum(one.shape.match is not None for one in lying)
    if matched and (asked.fabric.repeat_along or asked.fabric.repeat_across):
        yield Holds("pattern", f"the match points of {matched} outlines lie on its lines, in every layer")


def _kept_apart(gap: float) -> str:
    return f"no two outlines overlap, and {gap:g} mm is kept between them" if gap else "no two outlines overlap"
