"""The answer of `garments`: what there is to make, or all of one garment."""

from __future__ import annotations

from typing import Literal

from reports.schema.sealed import Sealed


class OptionAnswer(Sealed):
    """An option of a garment's style; a length's default is in mm, null where it is worked out.

    `label` is what people call it, `group` what it decides, such as ``fit``, ``pockets`` or ``seams``.
    """

    name: str
    label: str
    group: str
    kind: Literal["length", "share", "choice"]
    default: float | str | None
    choices: list[str]
    help: str
    example: str


class MadeAnswer(Sealed):
    """A garment. `to_measure` are those of its measurements for which no rule stands in.

    `asked` are its measurements and the arm's length, where the sleeve goes by that unless it is given.

    `package` is null where it is built in. `sketch` is the path of an SVG in a box of 100 by 120.
    """

    name: str
    title: str
    package: str | None
    measurements: list[str]
    asked: list[str]
    to_measure: list[str]
    sketch: str
    options: list[OptionAnswer]


class NotLoadedAnswer(Sealed):
    """A garment of another package that cannot be had, and why."""

    name: str
    package: str
    reason: str


class GarmentListAnswer(Sealed):
    """All garments: what `garments` alone prints."""

    schema: Literal[1]
    garments: list[MadeAnswer]
    not_loaded: list[NotLoadedAnswer]


class TakenAnswer(Sealed):
    """How a measurement is taken, and the rule that stands in where it is left out, if there is one."""

    how: str
    left_out: str | None


class DraftedForAnswer(Sealed):
    """The size that was drafted."""

    table: str
    size: str


class SewnSizeAnswer(Sealed):
    """What the garment measures once it is sewn, and the body there, mm; null where a body has no such."""

    name: str
    garment: float
    body: float | None


class OneGarmentAnswer(Sealed):
    """One garment: what `garments NAME` prints; `refused` says why the size cannot be drafted, and is empty else."""

    schema: Literal[1]
    garment: MadeAnswer
    measures: dict[str, TakenAnswer]
    drafted_for: DraftedForAnswer
    finished: list[SewnSizeAnswer]
    refused: str


GarmentsAnswer = GarmentListAnswer | OneGarmentAnswer
