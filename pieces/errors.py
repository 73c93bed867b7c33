"""What can go wrong between a body and its pattern pieces.

::

    PieceError
    ├── LengthError       a length that cannot be read                        (ValueError)
    ├── MeasurementError  a body or style measurement missing or absurd       (ValueError)
    ├── DraftError        measurements that cannot be drafted together        (ValueError)
    ├── GarmentError      a garment that is not there, or one by others that is broken (ValueError)
    ├── OutlineError      an outline that is empty, open or crosses itself    (ValueError)
    ├── SizeError         a size or a table of sizes that is not there        (ValueError)
    ├── FormatError       a file that cannot be read                          (ValueError)
    │   └── SeveralSizesError  a file of several sizes, and none was asked for
    ├── WrongTypeError    something of the wrong kind given to a function     (TypeError)
    ├── WrongNumberError  a number given to a function that is too small      (ValueError)
    ├── WrongWordError    a word given to a function that it does not know    (ValueError)
    └── AccountError      an import whose counts do not add up: our own fault (AssertionError)
"""

from __future__ import annotations

from difflib import get_close_matches


class PieceError(Exception):
    """Base of all errors of this package."""


class LengthError(PieceError, ValueError):
    """A length that cannot be read.

    Parameters
    ----------
    text, why
        What was written, and what is wrong with it.
    what
        What it is the length of, such as ``"the width of 'canvas'"``.
    """

    def __init__(self, text: str, why: str, what: str = "") -> None:
        self.text, self.why = text, why
        super().__init__(f"cannot read {f'{what},' if what else 'the length'} {text!r}: {why}")


class MeasurementError(PieceError, ValueError):
    """A measurement that is missing, or that no body has.

    Parameters
    ----------
    message
        What is wrong.
    hint
        What to write in a file to mend it, for faces that show files.
    """

    def __init__(self, message: str, *, hint: str = "") -> None:
        super().__init__(f"{message}: {hint}" if hint else message)
        self.message, self.hint = message, hint


class DraftError(PieceError, ValueError):
    """Measurements that are each sound, and cannot be drafted together.

    Parameters
    ----------
    about
        The measurement or style option to look at first; empty where there is none.
    """

    def __init__(self, message: str, *, about: str = "") -> None:
        super().__init__(message)
        self.about = about


class GarmentError(PieceError, ValueError):
    """A garment that is not there, or one of another package that cannot be used."""


class OutlineError(PieceError, ValueError):
    """An outline that is no simple closed line around an area."""


class SizeError(PieceError, ValueError):
    """A size that a table does not have, or a table that is not there."""


class FormatError(PieceError, ValueError):
    """A file that does not hold pieces, or a table, in the form it should."""


class SeveralSizesError(FormatError):
    """A file of several sizes, of which none was asked for: `sizes` are their names, smallest first."""

    def __init__(self, message: str, sizes: tuple[str, ...]) -> None:
        super().__init__(message)
        self.sizes = sizes


class WrongTypeError(PieceError, TypeError):
    """Something of the wrong kind given to a public function of any package: what it must be, and what it is."""


class WrongNumberError(PieceError, ValueError):
    """A number given to a public function of any package that is less than it may be."""


class WrongWordError(PieceError, ValueError):
    """A word given to a public function of any package that is none of those it knows."""


class AccountError(PieceError, AssertionError):
    """An import in which something of the file was lost or told twice: a fault of the program, not of the file."""

    def __init__(self, what: str) -> None:
        super().__init__(
            f"a fault of this program, not of the file: its account does not add up: {what}; please report it"
        )


def unknown_key(key: str, known: list[str]) -> str:
    """What to say of a key that is not known: the nearest one that is, or all."""
    near = get_close_matches(key, known, 1, 0.5)
    return f"unknown key '{key}': " + (
        f"did you mean '{near[0]}'?" if near else f"the known keys are {', '.join(known)}"
    )
