"""A job or an order as it is written: its data, and what is wrong with it in one line that names the file."""

from __future__ import annotations

from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from pydantic import ValidationError

from pieces.data import toml_data
from pieces.errors import PieceError
from pieces.units import speaking
from reports.ask.faults import first_fault
from reports.ask.recipe import units_of
from reports.errors import JobError, ReportError

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pydantic import BaseModel


def loads(text: str, name: str, needs: str = "") -> dict[str, Any]:
    """Plain data of TOML text.

    Parameters
    ----------
    name
        What errors call it.
    needs
        What is said to be needed where there is nothing; by default nothing is.

    Raises
    ------
    JobError
        If it is no TOML, or empty.
    """
    data = toml_data(text, name, JobError)
    if needs and not data:
        raise JobError(f"{name} is empty: it needs {needs}")
    return data


@contextmanager
def read_as(data: Mapping[str, Any], name: str, models: Mapping[str, type[BaseModel]]) -> Iterator[None]:
    """Within it what is wrong with some data is said in one line that names the file, in its own units: JobError.

    Parameters
    ----------
    models
        What the entries of such a file are.
    """
    with speaking(units_of(data)):
        try:
            yield
        except ValidationError as error:
            raise JobError(f"{name}: {first_fault(error, models)}") from error
        except (PieceError, ReportError) as error:
            raise JobError(f"{name}: {error}") from error
