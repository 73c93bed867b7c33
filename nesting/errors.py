"""What can go wrong between pieces and cloth.

::

    NestingError
    ├── PieceTooWideError   a piece that no band of the spread can hold   (ValueError)
    ├── NoFoldError         a piece for the fold, and cloth without one   (ValueError)
    ├── SpreadError         cloth that cannot lie in the way asked        (ValueError)
    ├── StripTooShortError  rib stock too small for a band                (ValueError)
    ├── RemnantError        a remnant whose sizes make no sense           (ValueError)
    ├── StopError           a stop that would never stop, or not begin    (ValueError)
    ├── LayPlanError        an order that table or rolls cannot meet      (ValueError)
    └── CheckError          a layout that did not pass the second opinion (AssertionError)
        └── WrongMarkerError  a marker that does not give what was asked for
"""

from __future__ import annotations

from pieces.units import bound_both, need_both


class NestingError(Exception):
    """Base of all errors of this package."""


class PieceTooWideError(NestingError, ValueError):
    """A piece that needs more across than any band gives.

    Parameters
    ----------
    name
        The piece.
    needs, usable
        Millimetres it needs across the cloth, and millimetres there are.
    remedy
        What to do about it.
    where
        The cloth and its spread, as the sentence should name them.
    """

    def __init__(self, name: str, needs: float, usable: float, where: str, remedy: str) -> None:
        self.name, self.needs, self.usable = name, needs, usable
        self.where, self.remedy = where, remedy
        super().__init__(f"'{name}' needs {need_both(needs)} across; {where} gives {bound_both(usable)}: {remedy}")


class NoFoldError(NestingError, ValueError):
    """A piece that must lie on a fold, on a spread that has none it could use.

    Parameters
    ----------
    name
        The piece.
    """

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(
            f"'{name}' is cut on a fold, but this spread has none: fold the cloth lengthwise, lay it open, or allow "
            "waste_twins"
        )


class SpreadError(NestingError, ValueError):
    """Cloth that cannot be laid in the way asked."""


class StripTooShortError(NestingError, ValueError):
    """Rib stock that cannot give a band, even with joins.

    Parameters
    ----------
    name
        The band.
    needs, usable
        Millimetres it needs, along it or in depth, and millimetres there are.
    message
        What is wrong, and what to do.
    """

    def __init__(self, name: str, needs: float, usable: float, message: str) -> None:
        self.name, self.needs, self.usable = name, needs, usable
        super().__init__(message)


class RemnantError(NestingError, ValueError):
    """A remnant whose sizes, or those of its cut-outs, cannot be read or make no sense."""


class StopError(NestingError, ValueError):
    """A stop that makes no sense: fewer rounds or seconds than none."""


class LayPlanError(NestingError, ValueError):
    """An order of garments that the table, the blade or the rolls cannot meet, or that makes no sense."""


class CheckError(NestingError, AssertionError):
    """A layout that failed the independent check; never shown to a person."""


class WrongMarkerError(CheckError):
    """A marker that does not give what was asked for: a fault of this program, whatever was asked.

    Parameters
    ----------
    reason
        The first thing that does not hold.
    """

    def __init__(self, reason: str) -> None:
        self.reason = reason
        super().__init__(
            f"a marker failed its check and is not shown: {reason}. This is a fault in ellwand, not in your job: "
            "please report it"
        )
