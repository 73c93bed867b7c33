"""What every garment declares: the measurements it needs, its style options, and how it is drafted."""

from __future__ import annotations

from dataclasses import Field, dataclass, field, fields
from typing import TYPE_CHECKING, Any, Literal

from pieces.body.body import Body
from pieces.body.rules import lacking
from pieces.errors import MeasurementError
from pieces.length import mm
from pieces.require import require

if TYPE_CHECKING:
    from collections.abc import Callable

    from pieces.garments.sewing import SewingStep
    from pieces.piece.pieces import PieceSet
    from pieces.trims.trim import TrimNeeded

OptionKind = Literal["length", "share", "choice"]


ABOVE_NOTHING = 1e-6
"""The least of an option that must be more than 0."""


def option(
    default: Any, help: str, kind: OptionKind = "length", *, example: str = "", least: float | None = None
) -> Any:
    """A style option: a dataclass field that says what it is, how a job file writes it, and the least it may be, mm."""
    if kind == "length" and default is not None:
        default = mm(default)
    return field(default=default, metadata={"help": help, "kind": kind, "example": example, "least": least})


@dataclass(frozen=True)
class Garment:
    """A garment that can be drafted.

    Parameters
    ----------
    name, title
        What a job file calls it, and what a person does.
    measurements
        The body measurements it cannot do without; for some of them a rule can stand in.
    style
        A `Dimensioned` class of options, every field made by `option`.
    drafting
        Body and style in, pieces out; raises DraftError where they do not go together.
    trims
        Pieces and style in, out what it needs besides; None where that is not known.
    steps
        Pieces and style in, out the order of sewing; None where that is not known.
    sketch
        A small drawing to choose it by: the path of an SVG in a box of 100 by 120, front and no back.
    title_in
        Style in, out the title in that style; None where it is the same in all.
    """

    name: str
    title: str
    measurements: tuple[str, ...]
    style: type[Any]
    drafting: Callable[[Body, Any], PieceSet]
    trims: Callable[[PieceSet, Any], tuple[TrimNeeded, ...]] | None = None
    steps: Callable[[PieceSet, Any], tuple[SewingStep, ...]] | None = None
    sketch: str = ""
    title_in: Callable[[Any], str] | None = None

    def titled(self, style: Any) -> str:
        """What a person calls it in a style."""
        return self.title if self.title_in is None else self.title_in(style)

    def draft(self, body: Body, style: Any) -> PieceSet:
        """The pieces for a body in a style, checked.

        Raises
        ------
        MeasurementError
            If the body lacks what the garment cannot do without.
        DraftError
            If the measurements and options do not go together; it says which, and what to change.
        """
        require(body, Body, "the body of a draft", "a Body")
        require(style, self.style, "the style of a draft", "a style of this garment: garment.style()")
        missing = lacking(self.measurements, body.measurements())
        if missing:
            raise MeasurementError(f"{self.name} needs {' and '.join(missing)}: measure the body there as well")
        return self.drafting(body, style)

    @property
    def asked(self) -> tuple[str, ...]:
        """The measurements to ask for: those it needs, and the arm's length where a sleeve goes by that if left out."""
        by_arm = any(each.name == "sleeve" and each.default is None for each in self.options())
        return (*self.measurements, *(("arm_length",) if by_arm and "arm_length" not in self.measurements else ()))

    def options(self) -> tuple[Field[Any], ...]:
        """The style's fields, each with ``help``, ``kind`` and ``example`` in its metadata."""
        return fields(self.style)
