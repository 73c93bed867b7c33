"""Garments turned on the nap: where only the pieces of one garment must agree, others may point the other way."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from nesting.errors import NestingError

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.cloth.fabric import Fabric
    from nesting.problem.problem import Problem


def settle_turned(lay: Callable[[Fabric], Problem], fabric: Fabric, garments: int) -> Problem:
    """The problem of garments on a fabric, with every second one turned on a nap by garment.

    Its alternative has none turned. Any other number may be turned as well: a proof takes the cloth for one without
    a nap, as whatever lies on a nap lies there too.

    Parameters
    ----------
    lay
        Lays the garments on the fabric: every second one turned, or on one whose nap runs through none.
    garments
        How many there are.

    Raises
    ------
    NestingError
        The first reason why the pieces do not go on the cloth, turned or not.
    """
    if fabric.nap != "by garment" or garments < 2:
        return lay(fabric)
    laid, errors = [], []
    for cloth in (fabric, replace(fabric, nap=True)):
        try:
            laid.append(lay(cloth))
        except NestingError as error:
            errors.append(error)
    if not laid:
        raise errors[0]
    loosest = lay(replace(fabric, nap=False)).to_prove
    first, *others = (replace(problem, loosest=loosest) for problem in laid)
    return replace(first, alternatives=tuple(others))
