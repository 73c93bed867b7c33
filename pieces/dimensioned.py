"""What has lengths that a person gives: text with its unit comes in, millimetres are kept.

A class names such fields by the types `Mm` and `MmOrNone`. To a type checker they take what `pieces.length` takes and
give a float; inside, reading them costs nothing, as they are floats.
"""

from __future__ import annotations

from dataclasses import Field, dataclass, field, fields
from typing import TYPE_CHECKING, Any, ClassVar, dataclass_transform

from pieces.length import Length, length_in_mm
from pieces.require import require

if TYPE_CHECKING:
    from pieces.length import Written

    class Mm:
        """A field that takes a length with its unit, and is a float in mm."""

        def __get__(self, at: object, of: Any = None) -> float: ...
        def __set__(self, at: object, value: Written) -> None: ...

    class MmOrNone:
        """As `Mm`; None where none was given."""

        def __get__(self, at: object, of: Any = None) -> float | None: ...
        def __set__(self, at: object, value: Written | None) -> None: ...

else:
    Mm, MmOrNone = float, float | None

NO_LENGTH: Any = Length(0.0)
"""The default of a field where there is nothing, such as a selvedge."""

NOT_GIVEN: Any = None
"""The default of a field that may lack its length; one of type `Mm` is read only where it is known to be given."""


@dataclass_transform(frozen_default=True, field_specifiers=(field,))
class Dimensioned:
    """A frozen dataclass whose lengths are given with their units.

    A subclass needs no decorator. If it has a `__post_init__`, that begins with this one's.
    """

    __dataclass_fields__: ClassVar[dict[str, Field[Any]]]
    _lengths: ClassVar[tuple[tuple[str, bool], ...]]

    def __init_subclass__(cls) -> None:
        dataclass(frozen=True)(cls)
        cls._lengths = tuple((f.name, f.default is None) for f in fields(cls) if f.type in ("Mm", "MmOrNone"))

    def __post_init__(self) -> None:
        """Keep every length in mm; LengthError or WrongTypeError names the one that is none."""
        kind = type(self).__name__
        owner = kind
        if "name" in self.__dataclass_fields__:
            require(getattr(self, "name"), str, f"the name of a {kind}", "text")  # noqa: B009
            owner = f"'{getattr(self, 'name')}'"  # noqa: B009
        for name, may_lack in self._lengths:
            given = getattr(self, name)
            if not isinstance(given, Length) and not (may_lack and given is None):
                kept = length_in_mm(given, f"the {name.replace('_', ' ')} of {owner}")
                object.__setattr__(self, name, kept)
