"""What stands in for a measurement that was not taken: a rule from others of the same body, and where it comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from pieces.units import CM, INCH

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

    from pieces.body.body import Body

HABIT = "common practice, no source"


class Rule(NamedTuple):
    """A rule for one measurement.

    Parameters
    ----------
    words
        What it says.
    source
        Where it comes from.
    work_out
        The measurement it gives, mm.
    """

    words: str
    source: str
    work_out: Callable[[Body], float]


def _by(body: Body, *, women: float, men: float, children: float) -> float:
    return {"women": women, "men": men, "children": children}[body.wearer]


def _nape_to_armhole(body: Body) -> float:
    return body.bust / 6 + _by(body, women=6 * CM, men=6 * CM, children=5.5 * CM)


def _waist(body: Body) -> float:
    return body.bust * _by(body, women=8 / 9, men=8 / 9, children=0.95)


def _nape_to_waist(body: Body) -> float:
    if body.wearer == "children":
        return 0.45 * body.bust
    return body.bust / 20 + _by(body, women=14.5 * INCH, men=16 * INCH, children=0.0)


def _front_length(body: Body) -> float:
    return measured_or_usual(body, "nape_to_waist") + _by(body, women=1.5 * INCH, men=0.5 * INCH, children=0.25 * INCH)


def _back_width(body: Body) -> float:
    if body.wearer == "children":
        return 0.4 * body.bust
    return body.bust / 6 + _by(body, women=7.5 * INCH, men=9 * INCH, children=0.0)


def _chest_width(body: Body) -> float:
    return measured_or_usual(body, "back_width") - _by(body, women=INCH, men=INCH / 2, children=INCH / 2)


RULES: Mapping[str, Rule] = {
    "nape_to_armhole": Rule(
        "a sixth of the bust and 6 cm, of children 5.5 cm",
        "notes of a sewing course, read on the web; of children common practice, no source",
        _nape_to_armhole,
    ),
    "waist": Rule(
        "a ninth less than the bust, of children a twentieth",
        "Hertzer, a cutting manual of 1892; of children common practice, no source",
        _waist,
    ),
    "nape_to_waist": Rule(
        "a twentieth of the bust and 14 1/2 in, of men 16 in; of children 0.45 of the chest", HABIT, _nape_to_waist
    ),
    "front_length": Rule("nape to waist and 1 1/2 in, of men 1/2 in, of children 1/4 in", HABIT, _front_length),
    "back_width": Rule(
        "a sixth of the bust and 7 1/2 in, of men 9 in; of children 0.4 of the chest", HABIT, _back_width
    ),
    "chest_width": Rule("back width less 1 in, of men and children 1/2 in", HABIT, _chest_width),
    "shoulder_slope": Rule("0.115 of the width across the shoulder", HABIT, lambda body: 0.115 * body.across_shoulder),
}
"""For measurements that a draft does without; the others it needs, or has rules of its own for."""


def measured_or_usual(body: Body, name: str) -> float:
    """A measurement of a body, mm: as it was taken, or by its rule."""
    measured: float | None = getattr(body, name)
    return RULES[name].work_out(body) if measured is None else measured
