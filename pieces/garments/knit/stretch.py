"""Whether a knit top can be pulled on: what each of its narrow places must stretch to, held against swatches."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from pieces.errors import DraftError
from pieces.units import format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.piece.ribbing import Swatch

RELAXED = 1.0 + 1e-9
"""What needs no more stretch than this needs none."""


class Passing(NamedTuple):
    """A place of the garment that something must pass.

    Parameters
    ----------
    place, sewn
        What it is called, and its length as it lies, mm.
    over, girth
        What it must pass, or be sewn to, in words and mm.
    change
        The options that help, in words.
    about
        The option that is at fault where it cannot.
    """

    place: str
    sewn: float
    over: str
    girth: float
    change: str
    about: str

    @property
    def times(self) -> float:
        """How many times its own length it must stretch to."""
        return self.girth / self.sewn

    def words(self, most: float = math.inf) -> str:
        """What must stretch to what; `most` is what is told of its times at the most, where it is known to be met."""
        times = min(math.ceil(self.times * 100 - 1e-6) / 100, most)
        return (
            f"{self.place}: {format_both(self.sewn)} must stretch {times:.2f} times, to {format_both(self.girth)}"
            f" {self.over}"
        )


def require_stretch(cloth: str, swatch: Swatch, places: list[Passing]) -> None:
    """Make sure that a cloth stretches as far as its places must.

    Raises
    ------
    DraftError
        At the place that must stretch furthest, if the swatch gave less.
    """
    worst = max(places, key=lambda place: place.times)
    if worst.times > swatch.ratio * RELAXED:
        raise DraftError(
            f"{worst.words()}, but the swatch gave {swatch.gave:.2f}: choose a {cloth} that stretches further, or"
            f" {worst.change}",
            about=worst.about,
        )


def stretch_notes(cloth: str, swatch: Swatch | None, places: list[Passing]) -> Iterator[str]:
    """A line for the place of a cloth that must stretch furthest, with its figure."""
    worst = max(places, key=lambda place: place.times)
    if worst.times <= RELAXED:
        yield f"{cloth}: nothing of it must stretch to be pulled on"
    elif swatch is None:
        key = "knit" if cloth == "knit" else "swatch"
        percent = math.ceil((worst.times - 1) * 100 - 1e-6)
        yield (
            f"{cloth}: it must stretch by {percent}%. {worst.words()}. Try it on your {cloth} first, or give"
            f" {key}_relaxed and {key}_stretched"
        )
    else:
        gave = swatch.gave
        yield f"{cloth}: the swatch gave {gave:.2f} times. {worst.words(gave)}"
