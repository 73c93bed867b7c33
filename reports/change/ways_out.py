"""Ways out where there is too little cloth: what may be cut otherwise, the least bad first."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, Literal, NamedTuple

from pieces.errors import LengthError, PieceError
from pieces.length import length_in_mm
from pieces.shapes.shaped import ShapedPiece
from pieces.units import INCH, Units, format_size
from reports.ask.draft import draft_job
from reports.change.parts import INSIDE, SMALL, UNSEEN, is_called, is_double, is_folded_over
from reports.change.recut import in_two, opened_out
from reports.plan.problems import whole_from

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from pieces import Piece
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer

WayKind = Literal["other cloth", "pieced", "cross grain", "shorter hem", "narrower seams"]

TRADE_SEAM = INCH * 3 / 8
"""Usual seam allowance of the trade, by two pages of a teacher of the trade."""

LEAST_HEM = INCH * 3 / 8
"""Least that a hem's allowance is cut down to: common practice, no source."""

MOST_STEPS = 3
"""Inches, or steps of 2.5 cm, by which a garment gets shorter at the most: common practice, no source."""


def least_of(text: str) -> float:
    """What `--least-seam` says, mm; LengthError if it cannot be read or is nothing."""
    width = float(length_in_mm(text, "--least-seam"))
    if width <= 0:
        raise LengthError(text, "it must be more than nothing", "--least-seam")
    return width


class WayOut(NamedTuple):
    """A change on trial.

    Parameters
    ----------
    pieces
        What is then cut of the cloth, whole; none where it is refused.
    elsewhere
        What is then cut of other cloth.
    refused
        Why it cannot be tried.
    """

    kind: WayKind
    name: str
    job: Job
    pieces: tuple[Piece, ...] = ()
    elsewhere: tuple[Piece, ...] = ()
    refused: str = ""


def ways_out(
    job: Job, cloth: FabricOffer | None, pieces: Sequence[Piece], least_seam: float, *, has_nap: bool, steps: int
) -> Iterator[WayOut]:
    """All ways out that the garment leaves room for, the least bad first.

    Parameters
    ----------
    cloth
        What the pieces are cut of; None for all of the shell.
    pieces
        As they are cut of it now, whole.
    least_seam
        What seam allowances are trimmed to, mm.
    has_nap
        Whether nothing may lie across the grain.
    steps
        By how many steps the garment may get shorter.
    """
    pieces = tuple(pieces)
    style = None if job.together else job.styled()
    seam = float(getattr(style, "seam", least_seam))
    yield from _of_other_cloth(job, pieces, seam)
    yield from _pieced(job, pieces, seam)
    yield from _across(job, pieces, has_nap)
    if style is None:
        return
    for kind, name, values in (*_shorter(job, style, steps), *_narrower(job, style, least_seam)):
        changed = job.model_copy(update={"style": job.style | {key: f"{value} mm" for key, value in values.items()}})
        try:
            drafted = draft_job(changed)
        except PieceError as error:
            yield WayOut(kind, name, job, refused=str(error))
            continue
        cut = whole_from(cloth, changed, drafted) if cloth else tuple(drafted.of("shell"))
        yield WayOut(kind, name, changed, cut)


def _listed(pieces: Sequence[Piece]) -> str:
    return ", ".join(piece.name for piece in pieces)


def _of_other_cloth(job: Job, pieces: tuple[Piece, ...], seam: float) -> Iterator[WayOut]:
    """First what lies inside as a whole, then the inner layers of what is double as well."""
    inside = tuple(piece for piece in pieces if is_called(piece, INSIDE))
    rest = tuple(piece for piece in pieces if piece not in inside)
    if inside and rest:
        yield WayOut("other cloth", f"of other cloth: {_listed(inside)}", job, rest, inside)
    here: list[Piece] = []
    elsewhere: list[Piece] = []
    for piece in rest:
        if is_double(piece):
            here.append(replace(piece, cut=1))
            elsewhere.append(replace(piece, cut=1, name=f"{piece.name}, inner layer"))
            continue
        try:
            halves = in_two(piece, seam, lengthways=True) if is_folded_over(piece) else (piece,)
        except PieceError:  # of a curved one there is no such half
            halves = (piece,)
        here.append(halves[0])
        elsewhere += [replace(half, name=f"{piece.name}, inner layer") for half in halves[1:]]
    if elsewhere:
        others = (*inside, *elsewhere)
        yield WayOut("other cloth", f"of other cloth: {_listed(others)}", job, tuple(here), others)


def _pieced(job: Job, pieces: tuple[Piece, ...], seam: float) -> Iterator[WayOut]:
    """All that does not show in two parts each."""
    cut: list[Piece] = []
    names: list[str] = []
    for piece in pieces:
        is_inner = is_double(piece)
        if isinstance(piece, ShapedPiece) or not (is_inner or is_called(piece, UNSEEN)):
            cut.append(piece)
            continue
        try:
            parts = in_two(piece, seam)
        except PieceError:  # too curved for one straight seam
            cut.append(piece)
            continue
        names.append(f"{piece.name}, inner layer" if is_inner else piece.name)
        cut += [replace(piece, cut=1), *(replace(part, cut=1) for part in parts)] if is_inner else parts
    if names:
        yield WayOut("pieced", f"pieced with a seam: {', '.join(names)}", job, tuple(cut))


def _across(job: Job, pieces: tuple[Piece, ...], has_nap: bool) -> Iterator[WayOut]:
    """Small parts across the grain, where that is better."""
    small = [p for p in pieces if is_called(p, SMALL) and p.lies == "straight" and not isinstance(p, ShapedPiece)]
    if not small:
        return
    name = f"across the grain: {_listed(small)}"
    if has_nap:
        yield WayOut("cross grain", name, job, refused="the cloth has a nap: what lies across it shades differently")
        return
    cut = tuple(replace(opened_out(piece), lies="cross") if piece in small else piece for piece in pieces)
    yield WayOut("cross grain", name, job, cut)


def _shorter(job: Job, style: Any, steps: int) -> Iterator[tuple[WayKind, str, dict[str, float]]]:
    """A hem's allowance down to the least, then the garment shorter by steps."""
    units = job.written_in
    hem = getattr(style, "hem", None)
    if isinstance(hem, float) and hem > LEAST_HEM:
        yield "shorter hem", f"hem of {format_size(LEAST_HEM, units)}", {"hem": LEAST_HEM}
    step = INCH if units is Units.INCHES else 25.0
    key = next((key for key in ("length", "inseam") if isinstance(getattr(style, key, None), float)), None)
    for count in range(1, steps + 1 if key else 1):
        length = getattr(style, str(key)) - count * step
        if length > step:
            yield "shorter hem", f"{format_size(count * step, units)} shorter", {str(key): length}


def _narrower(job: Job, style: Any, least: float) -> Iterator[tuple[WayKind, str, dict[str, float]]]:
    """Every seam allowance that is wider than the least."""
    keys = [option.name for option in job.model().options() if option.name == "seam" or option.name.endswith("_seam")]
    wide = {key: least for key in keys if isinstance(now := getattr(style, key), float) and now > least}
    if wide:
        yield "narrower seams", f"seam allowances of {format_size(least, job.written_in, 16)}", wide
