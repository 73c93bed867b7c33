"""Widths of tubes, as they are once cut open."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.errors import JobError

if TYPE_CHECKING:
    from collections.abc import Sequence

    from reports.ask.choices import TubeAsked
    from reports.ask.offer import FabricOffer


def opened_widths(widths: Sequence[float], cloth: FabricOffer, measured: TubeAsked | None) -> list[float]:
    """Full widths, mm, of cloth in the widths that a person asked for, of which a tube has two.

    Raises
    ------
    JobError
        If the cloth is a tube and it is not said which; or if it is said of what is no tube.
    """
    if cloth.spread != "tube":
        if measured is not None:
            raise JobError(f"--tube is for a tube, but '{cloth.name}' is not one: leave it out")
        return list(widths)
    if measured is None:
        raise JobError(
            f"'{cloth.name}' is a tube, which has two widths: add --tube lay_flat if widths are measured lying flat, "
            "or --tube opened if measured cut open, which is twice as wide"
        )
    return [width * 2 if measured == "lay_flat" else width for width in widths]
