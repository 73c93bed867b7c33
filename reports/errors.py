"""What can go wrong between a job file and its answer.

::

    ReportError
    ├── JobError      a job that cannot be read or understood   (ValueError)
    ├── PriceError    a price that cannot be read               (ValueError)
    ├── CostError     costs that do not agree with the order    (ValueError)
    ├── PaperError    paper that cannot be printed on           (ValueError)
    ├── HelpError     a topic that the help does not have         (ValueError)
    ├── StudyError    many markers that could not all be laid   (RuntimeError)
    ├── StateError    an answer that is not far enough for that, or not of this version (ValueError)
    ├── MissingError  a project, an answer or a part of it that is not there (LookupError)
    ├── NothingYetError a signal before there was anything to show
    ├── NothingWillDoError several cloths or ribs, of which none will do (NestingError)
    ├── LedgerError   an entry that cannot stand in the ledger    (ValueError)
    ├── LedgerFileError a ledger that cannot be used: damaged, in use, or newer (OSError)
    ├── OverLimitError a file from outside that takes too much to read (ValueError)
    └── OutputError   a file that cannot or must not be written (OSError)
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.errors import NestingError

if TYPE_CHECKING:
    from collections.abc import Sequence


class ReportError(Exception):
    """Base of all errors of this package."""


class JobError(ReportError, ValueError):
    """A job file that cannot be read or understood.

    Parameters
    ----------
    message
        What is wrong, and where.
    said
        What is wrong without where it stands, for faces that show it beside its field.
    hint
        What to write in the file to mend it, for faces that show files.
    """

    def __init__(self, message: str, *, said: str = "", hint: str = "") -> None:
        super().__init__(f"{message}: {hint}" if hint else message)
        self.message, self.said, self.hint = message, said or message, hint


class PriceError(ReportError, ValueError):
    """A price that cannot be read."""


class CostError(ReportError, ValueError):
    """Costs that do not agree with one another, or with the order."""


class PaperError(ReportError, ValueError):
    """Paper that cannot be printed on."""


class HelpError(ReportError, ValueError):
    """A topic that the help does not have.

    Parameters
    ----------
    name
        What was asked for.
    topics
        Those that there are.
    """

    def __init__(self, name: str, topics: Sequence[str]) -> None:
        super().__init__(f"there is no help on {name!r}: choose {', '.join(topics)}")
        self.name, self.topics = name, tuple(topics)


class StudyError(ReportError, RuntimeError):
    """Many markers that could not all be laid."""


class StateError(ReportError, ValueError):
    """An answer that is not far enough for what was asked of it, or not of this version."""


class MissingError(ReportError, LookupError):
    """A project, an answer or a part of it that is not there."""


class NothingWillDoError(ReportError, NestingError):
    """Several cloths, or ribs, and the pieces go on none of them.

    Parameters
    ----------
    names
        Those offered.
    reasons
        Why each will not do.
    """

    def __init__(self, names: Sequence[str], reasons: Sequence[NestingError]) -> None:
        self.names, self.reasons = tuple(names), tuple(reasons)
        told = (f"{name} will not do: {reason}" for name, reason in zip(names, reasons, strict=True))
        super().__init__("; ".join(told))


class NothingYetError(ReportError):
    """A signal that came before there was anything to show.

    Parameters
    ----------
    signal
        Its number.
    message
        What is to be said.
    """

    def __init__(self, signal: int, message: str = "interrupted before there was anything to show") -> None:
        super().__init__(message)
        self.signal = signal


class CountError(ReportError, AssertionError):
    """A number that a second count does not come to: a fault of this program, whatever was asked."""


class OutputError(ReportError, OSError):
    """A file that cannot be written, or would overwrite another unasked."""


class LedgerError(ReportError, ValueError):
    """An entry that cannot stand in the ledger: it does not go with what is there, or makes no sense."""


class LedgerFileError(ReportError, OSError):
    """A ledger that cannot be used: damaged, in use, written by a newer version, or in a folder not to be written."""


class OverLimitError(ReportError, ValueError):
    """A file from outside takes more time or memory than reading one may."""
