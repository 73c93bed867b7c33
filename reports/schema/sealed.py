"""What all models of answers have in common: nothing is in an answer that its model does not name."""

from __future__ import annotations

from pydantic import ConfigDict, with_config
from typing_extensions import TypedDict

STRICT = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False)
"""Nothing is taken for what it is not, and no number is infinite: JSON has none."""


@with_config(STRICT)
class Sealed(TypedDict):
    """An object of an answer."""
