"""Rib bands from the openings they are sewn to: cuff, hem band, neckband.

A band is a rectangle of rib, sewn to its opening folded double along its length. Rib stretches across, so
a band's length lies across the grain, and its depth along it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from pieces.errors import DraftError
from pieces.piece.curve import Line, Point
from pieces.piece.outline import Edge
from pieces.piece.piece import Notch, Piece
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from pieces.body.ranges import Wearer

QUARTER = "quarter"
"""Where a band meets the middle of a piece, so that it is stretched evenly: no place to join it."""

ZIP_END = "zip end"
"""Where a zip ends, on the end of a band."""

NO_JOIN = (QUARTER, ZIP_END)
"""Marks on a band that are no places to join it at."""

LEAST_SHARE = 0.6
"""A band shorter than this share of its opening would have to stretch by two thirds: noted."""

REMEDY = "cut it longer, or choose a rib that stretches further"

MOST_STRETCH = 4.0
"""No rib stretches further: a slip of the unit (common practice, no source)."""

HAND: Mapping[Wearer, float] = {"women": 1.205, "men": 1.207, "children": 1.205}
"""What a closed cuff must pass: a hand, over its bare wrist.

Means of ANSUR II (NATICK/TR-15/007, Gordon and others 2014), all soldiers; children, of whom it has
none, are given the women's.
"""


@dataclass(frozen=True)
class Swatch:
    """A bit of rib, or of another knit, measured across as it lies and again under the pull of a hand, mm.

    Parameters
    ----------
    key
        How the options that give it begin: ``"swatch"`` of rib, ``"knit"`` of the shell.

    Raises
    ------
    DraftError
        If a length is none, or the cloth does not stretch, or by more than any rib.
    """

    relaxed: float
    stretched: float
    key: Literal["swatch", "knit"] = "swatch"

    def __post_init__(self) -> None:
        first, second = f"{self.key}_relaxed", f"{self.key}_stretched"
        if not self.relaxed > 0:
            raise DraftError(
                f"{first} must be more than 0, not {format_both(self.relaxed)}: measure it relaxed", about=first
            )
        if not 1 < self.ratio <= MOST_STRETCH:
            raise DraftError(
                f"a swatch of {format_both(self.relaxed)} pulled out to {format_both(self.stretched)} stretches"
                f" {self.ratio:.2f} times; {'rib' if self.key == 'swatch' else 'a knit'} stretches more than 1 and at"
                f" most {MOST_STRETCH:g} times: measure again, {first} lying flat, {second} pulled by hand",
                about=second,
            )

    @classmethod
    def given(
        cls, relaxed: float | None, stretched: float | None, key: Literal["swatch", "knit"] = "swatch"
    ) -> Swatch | None:
        """The swatch, if one was measured; DraftError if it makes no sense, or half of it is missing."""
        if relaxed is None and stretched is None:
            return None
        if relaxed is None or stretched is None:
            given, missing = (f"{key}_stretched", f"{key}_relaxed")[:: 1 if relaxed is None else -1]
            said = f"{given} is given without {missing}: a stretch ratio needs both lengths of one swatch"
            raise DraftError(said, about=missing)
        return cls(relaxed, stretched, key)

    @property
    def ratio(self) -> float:
        """Times its own length that the rib gives under hand pull."""
        return self.stretched / self.relaxed

    @property
    def gave(self) -> float:
        """The same, rounded down to hundredths as it is told."""
        return math.floor(self.ratio * 100 + 1e-6) / 100

    def note(
        self, band: str, sewn: float, to: str, girth: float, *, where: str = "", remedy: str = REMEDY
    ) -> list[str]:
        """One line if a band sewn so long, mm, cannot stretch to a girth, mm; `to` says why it must, `where` when."""
        if girth <= sewn * self.ratio * (1 + 1e-9):
            return []
        needs = math.ceil(girth / sewn * 100 - 1e-6) / 100
        return [
            f"{band}: sewn {format_both(sewn)} long, must stretch {needs:.2f} times to {to} of {format_both(girth)}"
            f"{where}; the swatch gave {self.gave:.2f}: {remedy}"
        ]

    def passing_hand(self, band: str, sewn: float, wrist: float, wearer: Wearer) -> list[str]:
        """One line if a closed band cannot pass the hand.

        Parameters
        ----------
        wrist
            May have been measured with comfort, about as large as the hand: if the band passes that, and not a hand
            over a bare wrist, the line says so. mm.
        """
        times = HAND[wearer]
        where = f", if the wrist was measured bare (ANSUR II: {times:.4g} times)"
        return self.note(band, sewn, "pass a hand", wrist) or self.note(
            band, sewn, "pass a hand", wrist * times, where=where
        )


@dataclass(frozen=True)
class BandRule:
    """How long a band is cut for its opening.

    Parameters
    ----------
    kind
        ``"subtract"``: opening less `amount` mm; ``"share"``: opening times `amount` (two thirds to three
        quarters for a stretchy rib: Sewing & Craft Alliance, sewing.org); ``"stretch"``: as long as, once sewn,
        stretches `amount` times to the opening.
    amount
        Millimetres, a share, or times; a negative number of millimetres adds.
    seams
        Seam allowances at both ends together, mm, which the rule by stretch adds: it is about the sewn band.
    option
        What sets the amount, where one option does.
    """

    kind: Literal["subtract", "share", "stretch"]
    amount: float
    seams: float = 0.0
    option: str = ""

    def cut_length(self, name: str, opening: float) -> float:
        """Length to cut for an opening, mm.

        Raises
        ------
        DraftError
            If the band would have no length, or be longer than one and a half openings.
        """
        if self.kind == "subtract":
            length = opening - self.amount
        else:
            length = opening * self.amount if self.kind == "share" else opening / self.amount + self.seams
        if not 0.2 * opening <= length <= 1.5 * opening:
            raise DraftError(
                f"the {name} for an opening of {format_both(opening)} comes out {format_both(length)} long;"
                f" change {self.option or 'the amount or the share in its rule'}",
                about=self.option,
            )
        return length

    def describe(self) -> str:
        """The rule in words."""
        if self.kind == "share":
            return f"{self.amount * 100:g}% of the opening"
        if self.kind == "stretch":
            return f"sewn, it stretches {self.amount:.2f} times to its opening"
        less = "less" if self.amount >= 0 else "plus"
        return f"the opening {less} {format_both(abs(self.amount))}"


def cut_depth(finished: float, seam: float) -> float:
    """Depth to cut for a band folded double: twice the finished depth and two seam allowances, mm."""
    return 2 * finished + 2 * seam


def rib_band(
    name: str,
    length: float,
    depth: float,
    seam: float,
    *,
    cut: int,
    label: str = "",
    places: Sequence[tuple[str, float]] = (("middle", 0.5),),
) -> Piece:
    """A band of rib as a piece: `length` x `depth` mm are what is cut, seam allowances included.

    Parameters
    ----------
    places
        What the band meets when it is sewn on, from its start: a name, and the share of its sewn length at which it
        meets it. Each gets a notch on both edges; a band in parts is best joined there.
    """
    corners: list[Point] = [(seam, seam), (depth - seam, seam), (depth - seam, length - seam), (seam, length - seam)]
    names = ("end", "edge", "other end", "other edge")
    edges = tuple(Edge(edge, Line(corners[i], corners[(i + 1) % 4]).flatten(), seam) for i, edge in enumerate(names))
    middle = length / 2
    at = [(place, seam + share * (length - 2 * seam)) for place, share in places]
    return Piece(
        name,
        edges,
        cut=cut,
        material="rib",
        grain=((depth * 0.3, middle), (depth * 0.7, middle)),
        notches=tuple(Notch(place, (x, y)) for place, y in at for x in (seam, depth - seam)),
        label=label,
    )


_HALF: tuple[tuple[str, Literal["seam", "fold"]], ...] = (
    ("middle", "fold"),
    ("edge", "seam"),
    ("other end", "seam"),
    ("other edge", "seam"),
)


def half_on_fold(band: Piece) -> Piece:
    """A band as half of it on a fold across its middle, as it is cut of woven cloth."""
    (low, start), (deep, _), (_, end), _ = (tuple(edge.points[0]) for edge in band.edges)
    middle, allowance = (start + end) / 2, band.edges[0].allowance
    corners: list[Point] = [(low, middle), (deep, middle), (deep, end), (low, end)]
    edges = tuple(
        Edge(name, Line(corners[i], corners[(i + 1) % 4]).flatten(), 0.0 if kind == "fold" else allowance, kind)
        for i, (name, kind) in enumerate(_HALF)
    )
    kept = tuple(notch for notch in band.notches if notch.point[1] >= middle - 1e-6)
    grain = ((low + 0.3 * (deep - low), middle), (low + 0.7 * (deep - low), middle))
    return replace(band, edges=edges, notches=kept, grain=grain, label="centre back on fold")
