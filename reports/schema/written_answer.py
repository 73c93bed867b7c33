"""What an answer for machines is: its model, its version, and the JSON Schema made from it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

from pydantic import TypeAdapter
from pydantic.json_schema import GenerateJsonSchema


@dataclass(frozen=True)
class WrittenAnswer:
    """What a command prints, or a file holds.

    Parameters
    ----------
    what
        What it is, in words.
    model
        Its type.
    version
        Raised when a key goes, changes its meaning, or is new and always there; of an answer with a key ``schema``
        the same number.
    """

    what: str
    model: Any
    version: int = 1

    @cached_property
    def adapter(self) -> TypeAdapter[Any]:
        """What checks an answer against the model."""
        return TypeAdapter(self.model)

    def json_schema(self, name: str) -> dict[str, Any]:
        """The JSON Schema of the answer of that name."""
        made = self.adapter.json_schema()
        head = {"$schema": GenerateJsonSchema.schema_dialect, "$id": f"urn:ellwand:{name}:{self.version}"}
        return head | made | {"title": f"ellwand {name}", "version": self.version}
