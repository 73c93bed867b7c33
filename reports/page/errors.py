"""What goes wrong behind the page, with the status that answers it.

PageError            (ReportError)
├── StoreError       the folder of saved work cannot be used      (OSError)
│   └── DamagedError its database is damaged
├── BackupError      a backup that cannot be read                 (ValueError)
├── ChangedError     what was saved elsewhere in the meantime     (ValueError)
├── PhotoError       a photo that cannot be kept                  (ValueError)
├── TakenError       a name that another thing has already        (ValueError)
├── FullError        more searches than may wait                  (RuntimeError)
└── AddressError     an address that cannot be served             (OSError)
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar, NamedTuple

from reports.errors import ReportError

if TYPE_CHECKING:
    from collections.abc import Iterable


class PageError(ReportError):
    """Base of what goes wrong behind the page."""

    status: ClassVar[int] = 500


class StoreError(PageError, OSError):
    """The folder of saved work cannot be used."""


class DamagedError(StoreError):
    """The database of saved work is damaged."""


class BackupError(PageError, ValueError):
    """A backup that cannot be read."""

    status = 422


class ChangedError(PageError, ValueError):
    """A project, or a thing on the shelf, that was saved elsewhere in the meantime; `current` is what it is now."""

    status = 409

    def __init__(self, current: dict[str, Any], what: str = "this project") -> None:
        super().__init__(
            f"{what} was saved elsewhere in the meantime: use that version, or save yours under another name"
        )
        self.current = current


class PhotoError(PageError, ValueError):
    """A photo that cannot be kept: no picture, too large, or one too many."""

    status = 422


class TakenError(PageError, ValueError):
    """A name that another thing has already."""

    status = 409


class FieldFault(NamedTuple):
    """What is wrong with a field.

    Parameters
    ----------
    field
        Its name, such as ``fabric.0.width``; empty, it is the whole.
    message
        What is wrong with it.
    hint
        What to write in a file to mend it, for who has one open.
    """

    field: str
    message: str
    hint: str = ""


class FieldsError(PageError, ValueError):
    """A job or an order that will not do; `faults` are all its faults that can be told at once."""

    status = 422

    def __init__(self, faults: Iterable[FieldFault]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(f"{f.field}: {f.message}" if f.field else f.message for f in self.faults))

    def __reduce__(self) -> tuple[Any, ...]:
        return FieldsError, (self.faults,)


class LayoutError(PageError, ValueError):
    """A layout made by hand that cannot be cut as it lies."""

    status = 409


class FullError(PageError, RuntimeError):
    """More searches than may wait."""

    status = 429


class AddressError(PageError, OSError):
    """An address that cannot be served."""
