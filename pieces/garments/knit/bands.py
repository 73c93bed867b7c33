"""Rib bands of a knit top: closed rings of cuff, hem band and neckband, each folded double."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from pieces.piece.ribbing import cut_depth, rib_band
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.garments.knit.style import KnitBand, KnitStyle
    from pieces.piece.piece import Piece


class Ring(NamedTuple):
    """A band, as it is wanted.

    Parameters
    ----------
    name, opening
        What it is sewn to, mm.
    depth
        Finished, mm.
    cut
        How many.
    places
        What it meets, from where its ends are joined: a name, and the share of its length.
    """

    name: KnitBand
    opening: float
    depth: float
    cut: int
    places: tuple[tuple[str, float], ...]


def rings(wrist: float, hem: float, neck: tuple[float, float], style: KnitStyle) -> tuple[Ring, ...]:
    """The bands there are.

    Parameters
    ----------
    wrist, hem
        Their openings, mm.
    neck
        Half the neckline of back and front, mm.
    """
    shoulder = neck[0] / (2 * sum(neck))
    wanted = (
        Ring("cuff", wrist, style.band_depth, 2, (("sleeve middle", 0.5),)),
        Ring(
            "hem band",
            hem,
            style.band_depth,
            1,
            (("centre front", 0.25), ("right side seam", 0.5), ("centre back", 0.75)),
        ),
        Ring(
            "neckband",
            2 * sum(neck),
            style.stands,
            1,
            (("right shoulder seam", shoulder), ("centre front", 0.5), ("left shoulder seam", 1 - shoulder)),
        ),
    )
    return tuple(ring for ring in wanted if style.rule(ring.name) is not None)


def draft_bands(wanted: tuple[Ring, ...], style: KnitStyle) -> Iterator[tuple[Piece, str]]:
    """Each band, with a line on how it was measured."""
    for ring in wanted:
        rule = style.rule(ring.name)
        assert rule is not None
        length = rule.cut_length(ring.name, ring.opening)
        band = rib_band(
            ring.name, length, cut_depth(ring.depth, style.seam), style.seam, cut=ring.cut, places=ring.places
        )
        sewn = length - 2 * style.seam
        yield (
            band,
            f"{ring.name}: cut by rule, {rule.describe()}; sewn {format_both(sewn)}, {sewn / ring.opening:.0%} of its"
            " opening",
        )
