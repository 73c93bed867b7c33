"""What can go wrong between a body and its pattern pieces.

::

    PieceError
    ├── LengthError       a length that cannot be read                        (ValueError)
    ├── MeasurementError  a body or style measurement missing or absurd       (ValueError)
    ├── DraftError        measurements that cannot be drafted together        (ValueError)
    ├── OutlineError      an outline that is empty, open or crosses itself    (ValueError)
    └── FormatError       a file of pieces that cannot be read                (ValueError)
"""

from __future__ import annotations


class PieceError(Exception):
    """Base of all errors of this package."""


class LengthError(PieceError, ValueError):
    """A length that cannot be read; `text` is what was written."""

    def __init__(self, text: str, why: str) -> None:
        self.text = text
        super().__init__(f"cannot read the length {text!r}: {why}")


class MeasurementError(PieceError, ValueError):
    """A measurement that is missing, or that no body has."""


class DraftError(PieceError, ValueError):
    """Measurements that are each sound, and cannot be drafted together."""


class OutlineError(PieceError, ValueError):
    """An outline that is no simple closed line around an area."""


class FormatError(PieceError, ValueError):
    """A file that does not hold pieces in the form it should."""
