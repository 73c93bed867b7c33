"""Which change of style, or of how the cloth lies, saves cloth: each one really drafted and laid."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal, NamedTuple, get_args, get_type_hints

from nesting.edit.carry import carry
from nesting.errors import NestingError
from nesting.problem.outline import polygon_area
from nesting.verify import verify_asked
from pieces.errors import PieceError
from pieces.piece.divide import divide
from pieces.piece.pieces import PieceSet
from pieces.units import INCH, Units, format_size
from reports.ask.draft import draft_job
from reports.ask.wanted import asked_of
from reports.batch.series import settle_with
from reports.change.ways_out import ways_out
from reports.plan.answers import purchase_of
from reports.plan.piecing import ClothAcross
from reports.plan.problems import cut_from, whole_from
from reports.plan.settling import Settling
from reports.plan.words import SPREAD_WORDS

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence
    from decimal import Decimal

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from pieces import Piece
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.money.yardage import Purchase

    Lay = Callable[[Sequence[Problem]], Sequence[Marker | None]]

SEEDS = 3
"""Random seeds from which the job as it is is laid, to see by how much markers differ by the search alone."""

BACKS = {"seam": "with a seam", "fold": "on the fold"}
"""What is said of a centre back, by the choices of a garment that has them."""

NOW = "as it is"

ALIKE = 0.1
"""Sizes of pieces that differ by less, mm, count as alike: an edge that runs otherwise moves its ends a little."""

Outcome = Literal["laid", "not searched", "not found shorter", "does not fit", "cannot be drafted"]
"""What came of a change; of smaller pieces in a longer marker nothing is told, as the search found too little."""


class TriedChange(NamedTuple):
    """A change on trial: its name, and the job, the cloth and the pieces under it; of a way out, what is cut of it."""

    name: str
    offer: FabricOffer
    pieces: PieceSet
    job: Job
    whole: tuple[Piece, ...] = ()

    @property
    def cut(self) -> tuple[Piece, ...]:
        """What is cut of the cloth."""
        if self.whole:
            return ClothAcross.of_offer(self.offer).pieced(self.whole)
        return cut_from(self.offer, self.job, self.pieces)


@dataclass(frozen=True)
class Saving:
    """What a change comes to.

    Parameters
    ----------
    saved
        By how much its marker takes less length of cloth, mm; less than 0 if it takes more.
    less
        How much less is bought, mm; less than 0 if more is.
    refused
        Why there is no marker.
    """

    name: str
    marker: Marker | None
    saved: float
    less: float
    purchase: Purchase | None
    cost: Decimal | None
    outcome: Outcome = "laid"
    refused: str = ""

    @classmethod
    def without_marker(cls, name: str, outcome: Outcome, why: object) -> Saving:
        """A change of which no length is told."""
        return cls(name, None, 0.0, 0.0, None, None, outcome, str(why))


@dataclass(frozen=True)
class Savings:
    """What each change comes to on one of a job's cloths, counted from 1: the job as it is, then the best first.

    `scatter` is by how much markers of the job as it is differ by the random seed alone, mm; None where it was not
    searched from several.
    """

    job: Job
    fabric: int
    rows: tuple[Saving, ...]
    seed: int
    scatter: float | None = None

    @property
    def cut_short(self) -> bool:
        """Whether an interrupt came before some changes were laid."""
        return any(row.outcome == "not searched" for row in self.rows)


def savings(
    job: Job,
    number: int,
    lay: Lay,
    seed: int = 0,
    *,
    again: Callable[[int], Lay] | None = None,
    briefly: Lay | None = None,
    least_seam: float | None = None,
) -> Savings:
    """Lay the job as it is and under each change on one of its cloths; the best saving first, after the first row.

    Parameters
    ----------
    number
        Of the cloth in the job, from 1.
    lay
        Lays problems, all with the same effort; None for those that an interrupt came before.
    seed
        The random seed that it lays them from.
    again
        Lays with the same effort from another seed; None where that makes no difference, as with first layouts.
    briefly
        Lays ways out with less effort; by default as `lay`.
    least_seam
        What seam allowances are trimmed to, mm, where ways out are tried as well; none are without it.
    """
    laid: list[tuple[TriedChange, Settling]] = []
    rows: list[Saving] = []
    for change in _changes(job, number, least_seam):
        try:
            if isinstance(change, Saving):
                rows.append(change)
                continue
            laid.append((change, Settling(change.offer, change.cut, change.job.garments)))
        except (NestingError, PieceError) as error:
            if isinstance(change, TriedChange) and change.name == NOW:
                raise
            fault: Outcome = "does not fit" if isinstance(error, NestingError) else "cannot be drafted"
            rows.append(Saving.without_marker(change.name, fault, error))
    cloths = [cloth for _, cloth in laid]
    settle_with([cloth for change, cloth in laid if not change.whole], lay)
    settle_with([cloth for change, cloth in laid if change.whole], briefly or lay)
    markers = [_marker(cloth, cloths[0]) for cloth in cloths]
    found = [_saving(change, marker, markers[0], laid[0][0]) for (change, _), marker in zip(laid, markers, strict=True)]
    told = sorted(found[1:], key=lambda one: (one.marker is None, -one.saved))
    scatter = _scatter(cloths[0], markers[0], [again(seed + 1 + i) for i in range(SEEDS - 1)] if again else [])
    return Savings(job, number, (*found[:1], *told, *rows), seed, scatter)


def _scatter(now: Settling, marker: Marker | None, lays: Sequence[Lay]) -> float | None:
    """By how much the job as it is takes more or less when it is laid again, mm; None if it was not."""
    if marker is None or not lays:
        return None
    lengths = [marker.cloth_length]
    for lay in lays:
        anew = Settling(now.offer, now.pieces, now.garments)
        settle_with([anew], lay)
        if anew.missed:
            return None
        lengths.append(anew.found[anew.best].cloth_length)
    return max(lengths) - min(lengths)


def _marker(cloth: Settling, now: Settling) -> Marker | None:
    """The shortest marker of a cloth under a change; None if not all of it was searched.

    Where the pieces have changed, they may lie as those of the job as it is do. Of another spread it is a marker of
    that one, and of none that it contains: each stands in a row of its own.
    """
    if cloth.missed:
        return None
    if now.found and cloth.drafted != now.drafted:
        for spread in cloth.spreads:
            if again := carry(now.found[now.best], cloth.problems[spread]):
                cloth.adopt(spread, again)
    asked = cloth.offer.spread
    spread = cloth.best if asked == "best" or asked == now.offer.spread else asked
    marker, depth = cloth.marked(spread), cloth.depths[spread]
    verify_asked(marker, asked_of(cloth.offer, spread, cloth.pieces, cloth.garments, depth))
    return marker


def _only_smaller(change: TriedChange, now: TriedChange) -> bool:
    """Whether a change makes no piece longer or wider, and all together smaller, on the same cloth."""
    before, changed = (one.cut for one in (now, change))
    of = {piece.name: piece for piece in before}
    return (
        change.offer == now.offer
        and all(piece.name in of and _no_larger(piece, of[piece.name]) for piece in changed)
        and _area(changed) < _area(before)
    )


def _no_larger(piece: Piece, before: Piece) -> bool:
    if any(getattr(piece, key) != getattr(before, key) for key in ("cut", "mirrored_pair", "lies", "on_fold")):
        return False
    return piece.length <= before.length + ALIKE and piece.width <= before.width + ALIKE


def _area(pieces: Iterable[Piece]) -> float:
    return sum(piece.cut * polygon_area(piece.unfolded) for piece in pieces)


def _saving(change: TriedChange, marker: Marker | None, base: Marker | None, now: TriedChange) -> Saving:
    if marker is None or base is None:
        return Saving.without_marker(change.name, "not searched", "interrupted before it was searched")
    saved = base.cloth_length - marker.cloth_length
    if saved < 0 and _only_smaller(change, now):
        why = "not found shorter, although its pieces are smaller: search longer"
        return Saving.without_marker(change.name, "not found shorter", why)
    bought = purchase_of(change.offer, marker.problem, marker.length)
    less = purchase_of(now.offer, base.problem, base.length).buy - bought.buy
    return Saving(change.name, marker, saved, less, bought, change.offer.cost(bought.buy))


def _changes(job: Job, number: int, least_seam: float | None) -> Iterator[TriedChange | Saving]:
    """The job as it is, then every change that it leaves room for."""
    offer, pieces = job.fabric[number - 1], draft_job(job)
    yield TriedChange(NOW, offer, pieces, job)
    yield from _styles(job, offer)
    if least_seam is not None:
        yield from _ways_out(job, offer, pieces, least_seam)
    if any(piece.name == "sleeve" and not piece.on_fold for piece in pieces.of("shell")):
        yield TriedChange("sleeve in two parts", offer, _two_part_sleeve(pieces, job.styled().seam), job)
    for spread in ("open", "folded", "double-folded", "part-folded"):
        if offer.spread != spread:
            update: dict[str, Any] = {"spread": spread, "fold_depth": None}
            yield TriedChange(f"cloth, {SPREAD_WORDS[spread]}", offer.model_copy(update=update), pieces, job)
    if offer.nap:
        yield TriedChange("no nap to mind", offer.model_copy(update={"nap": False}), pieces, job)
    if offer.repeat_along or offer.repeat_across:
        plain = {"repeat_along": 0.0, "repeat_across": 0.0}
        yield TriedChange("no pattern to match", offer.model_copy(update=plain), pieces, job)
    if offer.border:
        yield TriedChange(
            "no border to mind", offer.model_copy(update={"border": None, "border_edges": ()}), pieces, job
        )
    if not offer.tilt:
        yield TriedChange("tilt of 2 degrees", offer.model_copy(update={"tilt": 2.0}), pieces, job)


def _ways_out(job: Job, offer: FabricOffer, pieces: PieceSet, least_seam: float) -> Iterator[TriedChange | Saving]:
    """What one does where cloth is short: parts of other cloth, pieced, across the grain; narrower hems and seams."""
    whole = whole_from(offer, job, pieces)
    for way in ways_out(job, offer, whole, least_seam, has_nap=bool(offer.nap), steps=0):
        if way.refused:
            yield Saving.without_marker(way.name, "cannot be drafted", way.refused)
        else:
            yield TriedChange(way.name, offer, pieces, way.job, way.pieces)


def _styles(job: Job, offer: FabricOffer) -> Iterator[TriedChange | Saving]:
    """Changes of those options that the garment has: another garment may have none of them."""
    style = job.styled()
    inch = INCH if job.written_in is Units.INCHES else 25.0
    less = format_size(inch, job.written_in)
    options: list[tuple[str, dict[str, Any]]] = []
    length, ease = getattr(style, "length", None), getattr(style, "room", getattr(style, "ease", None))
    if isinstance(length, float) and length > inch:
        options.append((f"{less} shorter", {"length": length - inch}))
    if isinstance(ease, float) and hasattr(style, "ease") and ease >= inch:
        options.append((f"{less} less ease", {"ease": ease - inch}))
    choices = {name: get_args(hint) for name, hint in get_type_hints(type(style)).items()}
    behind = [other for other in choices.get("back", ()) if other in BACKS and other != style.back]
    options += [(f"centre back {BACKS[other]}", {"back": other}) for other in behind]
    if hasattr(style, "facing"):
        options += [(f"facing: {other}", {"facing": other}) for other in choices["facing"] if other != style.facing]
    if getattr(style, "tab_width", 0.0):
        options.append(("rib in place of the hem tabs", {"tab_width": 0.0}))
    for name, values in options:
        texts = {key: f"{value} mm" if isinstance(value, float) else value for key, value in values.items()}
        changed = job.model_copy(update={"style": job.style | texts})
        try:
            yield TriedChange(name, offer, draft_job(changed), changed)
        except PieceError as error:
            yield Saving.without_marker(name, "cannot be drafted", error)


def _two_part_sleeve(pieces: PieceSet, seam: float) -> PieceSet:
    sleeve = pieces["sleeve"]
    low, high = sleeve.cut_line[:, 1].min(), sleeve.cut_line[:, 1].max()
    parts = divide(sleeve, float(low + high) / 2, seam)
    return PieceSet(pieces.garment, (*(piece for piece in pieces if piece.name != "sleeve"), *parts))


def savings_to_plain(found: Savings) -> dict[str, Any]:
    """The answer for machines: lengths in mm."""
    return {
        "schema": 4,
        "job": found.job.name,
        "units": found.job.units,
        "seed": found.seed,
        "fabric": found.job.fabric[found.fabric - 1].name,
        "cut_short": found.cut_short,
        "scatter_mm": found.scatter,
        "changes": [
            {
                "change": row.name,
                "marker_mm": row.marker.cloth_length if row.marker else None,
                "saved_mm": row.saved if row.marker else None,
                "less_mm": row.less if row.marker else None,
                "buy": row.purchase.text if row.purchase else None,
                "buy_mm": row.purchase.buy if row.purchase else None,
                "cost": None if row.cost is None else float(row.cost),
                "outcome": row.outcome,
                "refused": row.refused,
            }
            for row in found.rows
        ],
    }
