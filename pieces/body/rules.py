"""What stands in for a measurement that was not taken: a rule from others of the same body, and where it comes from."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from pieces.body.ranges import SURVEYS
from pieces.errors import MeasurementError
from pieces.units import CM, INCH

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable, Mapping

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
    needs
        The measurements it goes by, beside the wearer.
    """

    words: str
    source: str
    work_out: Callable[[Body], float]
    needs: tuple[str, ...] = ("bust",)


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


def _crotch_depth(body: Body) -> float:
    return body.hip / 4 + _by(body, women=INCH / 2, men=INCH / 2, children=0.0)


def _inside_leg(body: Body) -> float:
    return 0.9 * body.bust if body.wearer == "children" else _by(body, women=29 * INCH, men=31.5 * INCH, children=0.0)


def _head(body: Body) -> float:
    survey = SURVEYS.get(body.wearer)
    return survey["head"].mean if survey else 21 * INCH


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
    "shoulder_slope": Rule(
        "0.115 of the width across the shoulder",
        HABIT,
        lambda body: 0.115 * body.across_shoulder,
        ("across_shoulder",),
    ),
    "crotch_depth": Rule("a quarter of the hip and, of adults, 1/2 in", HABIT, _crotch_depth, ("hip",)),
    "hip_depth": Rule(
        "0.175 of the hip",
        "The Perfect Dressmaking System, 1914: 7 in at a hip of 40 in; for other hips by their share",
        lambda body: 0.175 * body.hip,
        ("hip",),
    ),
    "inside_leg": Rule("29 in, of men 31 1/2 in; of children 0.9 of the chest", HABIT, _inside_leg),
    "thigh": Rule("0.6 of the hip", HABIT, lambda body: 0.6 * body.hip, ("hip",)),
    "head": Rule(
        "the mean of ANSUR II, 561 mm, of men 574 mm; of children 21 in",
        "ANSUR II (Gordon and others 2014); of children common practice, no source",
        _head,
        (),
    ),
}
"""For measurements that a draft does without; the others it needs, or has rules of its own for."""


def measured_or_usual(body: Body, name: str) -> float:
    """A measurement of a body, mm: as it was taken, or by its rule."""
    measured: float | None = getattr(body, name)
    if measured is not None:
        return measured
    missing = lacking((name,), body.measurements())
    if missing:
        raise MeasurementError(f"{name} is needed: measure it, or give {' and '.join(RULES[name].needs)} for its rule")
    return RULES[name].work_out(body)


def lacking(needed: Iterable[str], given: Collection[str]) -> list[str]:
    """Measurements that are neither given nor follow by a rule from those that are."""
    return [name for name in needed if name not in given and not _follows(name, given)]


def to_measure(needed: Collection[str]) -> tuple[str, ...]:
    """Of measurements that are needed those that do not follow by a rule from the others of them."""
    return tuple(name for name in needed if lacking((name,), [other for other in needed if other != name]))


def _follows(name: str, given: Collection[str]) -> bool:
    return name in RULES and all(each in given for each in RULES[name].needs)
