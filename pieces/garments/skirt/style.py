"""What the styles of all skirts have in common: options of one name and one meaning. Defaults: common practice."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal, Protocol

from pieces.body.rules import measured_or_usual
from pieces.dimensioned import NOT_GIVEN
from pieces.garments.garment import ABOVE_NOTHING, option
from pieces.length import mm
from pieces.units import INCH

if TYPE_CHECKING:
    from pieces.body.body import Body
    from pieces.length import Length

ZipAt = Literal["back", "side"]
"""In which seam the zip is."""


class SkirtStyle(Protocol):
    """What every skirt's style says, lengths in mm."""

    @property
    def length(self) -> float: ...  # noqa: D102 - said where it is an option
    @property
    def ease(self) -> float: ...  # noqa: D102
    @property
    def seam(self) -> float: ...  # noqa: D102
    @property
    def hem(self) -> float: ...  # noqa: D102
    @property
    def waistband_depth(self) -> float: ...  # noqa: D102
    @property
    def zip(self) -> ZipAt: ...  # noqa: D102
    @property
    def interfacing(self) -> Literal["none", "cut"]: ...  # noqa: D102


LONGEST, OF_HIP = 24 * INCH, 5 / 8
"""How long a skirt is if nothing is asked for: such a share of the hip, about to the knee, and no longer.

Crotch depth and 0.43 of the inside leg are 0.61 to 0.63 of the hip in our table of children.
"""


def length_option() -> Any:
    """From the waist seam to the hem; a skirt is drafted by `usual_length` where none is given."""
    said = "finished length from the waist seam to the hem; by default 5/8 of the hip, 24 in at the most"
    return option(NOT_GIVEN, said, example="24 in", least=ABOVE_NOTHING)


def usual_length(body: Body, asked: float | None) -> Length:
    """The length asked for, or the usual one for a body."""
    return mm(min(LONGEST, OF_HIP * body.hip) if asked is None else asked)


def ease_option() -> Any:
    """Room round the waist."""
    return option(INCH, "room round the waist", example="1 in", least=0)


def hip_ease_option() -> Any:
    """Room round the hip: 2 in more than the measure (School Sewing, foundation skirt)."""
    return option(2 * INCH, "room round the hip", example="2 in", least=0)


def seam_option() -> Any:
    """The seam allowance."""
    return option(INCH / 2, "seam allowance", example="1/2 in", least=ABOVE_NOTHING)


def waistband_depth_option() -> Any:
    """The depth of a waistband."""
    said = "finished depth of the waistband"
    return option(1.25 * INCH, said, example="1 1/4 in", least=ABOVE_NOTHING)


def zip_option(default: ZipAt) -> Any:
    """The seam of the zip."""
    return option(default, "which seam has the zip: centre back, or left side", "choice")


def cloth_width_option() -> Any:
    """The width of the cloth that panels are counted for."""
    said = "by cloth: its width between the selvedges"
    return option(45 * INCH, said, example="45 in", least=10 * INCH)


def pockets_option() -> Any:
    """Whether it has pockets."""
    return option("none", "two pockets in the side seams", "choice")


def pocket_mouth_option() -> Any:
    """The mouth of a pocket."""
    return option(
        None, "finished mouth of a pocket; by default by the hip, 6 in at 39", example="6 in", least=ABOVE_NOTHING
    )


def interfacing_option() -> Any:
    """Whether interfacing is cut."""
    return option("none", "pieces of interfacing for the waist", "choice")


def finished_waist(body: Body, style: SkirtStyle) -> float:
    """Round the finished waist seam, mm."""
    return measured_or_usual(body, "waist") + style.ease
