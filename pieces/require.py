"""What the public functions are given, looked at as they are called: one clear error where it is of the wrong kind."""

from __future__ import annotations

import inspect
from collections.abc import Iterable
from numbers import Integral, Real
from typing import TYPE_CHECKING, Any

from pieces.errors import WrongNumberError, WrongTypeError, WrongWordError

if TYPE_CHECKING:
    from types import UnionType

_LONGEST = 40


def require(given: Any, kind: type | UnionType, what: str, needs: str) -> None:
    """Make sure that something is of a kind.

    Parameters
    ----------
    what, needs
        What it is, such as ``"the fabric of lay_pieces"``; and what it must be.

    Raises
    ------
    WrongTypeError
        If it is not; it says what was given instead.
    """
    if not isinstance(given, kind):
        raise WrongTypeError(f"{what} must be {needs}, not {told(given)}")


def require_number(given: Any, what: str) -> None:
    """Make sure that something is a number; WrongTypeError if not."""
    if isinstance(given, bool) or not isinstance(given, Real):
        raise WrongTypeError(f"{what} must be a number, not {told(given)}")
    try:
        float(given)
    except OverflowError as error:
        raise WrongTypeError(f"{what} must be a number, not one of hundreds of digits") from error


def require_whole(given: Any, what: str, *, least: int | None = None) -> None:
    """Make sure that something is a whole number, no less than it may be; WrongTypeError or WrongNumberError if not."""
    if isinstance(given, bool) or not isinstance(given, Integral):
        raise WrongTypeError(f"{what} must be a whole number, not {told(given)}")
    if least is not None and int(given) < least:
        raise WrongNumberError(f"{what} must be {least} or more, not {given}")


def require_all(given: Any, kind: type | UnionType, what: str, needs: str) -> tuple[Any, ...]:
    """Several things of a kind, as a tuple.

    Parameters
    ----------
    what, needs
        As of `require`; `needs` in the plural, such as ``"pieces"``.

    Raises
    ------
    WrongTypeError
        If they are no collection, or one of them is of another kind.
    """
    if isinstance(given, str | bytes | dict) or not isinstance(given, Iterable):
        raise WrongTypeError(f"{what} must be a list of {needs}, not {told(given)}")
    found = tuple(given)
    for number, one in enumerate(found, 1):
        if isinstance(one, bool) or not isinstance(one, kind):
            raise WrongTypeError(f"{what} must be {needs}, but number {number} is {told(one)}")
    return found


def is_one_of(given: Any, known: Iterable[str]) -> bool:
    """Whether something is one of a few words."""
    return isinstance(given, str) and given in tuple(known)


def require_one_of(given: Any, known: Iterable[str], what: str) -> None:
    """Make sure that something is one of a few words; WrongWordError with those there are if not."""
    words = tuple(known)
    if not is_one_of(given, words):
        raise WrongWordError(f"{what} must be one of {', '.join(words)}, not {told(given)}")


def require_callable(given: Any, what: str, needs: str, *, takes: int) -> None:
    """Make sure that something can be called with so many things; WrongTypeError if not.

    A class that cannot is named: who forgot its brackets has given the class in place of what it makes. So has who
    gives one where something is to be called again and again.
    """
    if not callable(given) or (takes and isinstance(given, type)):
        raise WrongTypeError(f"{what} must be {needs}, not {told(given)}")
    try:
        inspect.signature(given).bind(*range(takes))
    except TypeError as error:
        raise WrongTypeError(f"{what} must be {needs}; {told(given)} cannot be called so: {error}") from error
    except ValueError:
        return  # what is not written in Python may not say what it takes


def told(given: Any) -> str:
    """What something is, in a few words: ``the text 'canvas'``, ``the number 60``, ``a Fabric``."""
    if given is None or isinstance(given, bool):
        return str(given)
    if isinstance(given, str):
        return f"the text {given if len(given) <= _LONGEST else given[:_LONGEST] + '…'!r}"
    if isinstance(given, int | float):
        return f"the number {given:g}"
    if isinstance(given, type):
        return f"the class {given.__name__}"
    name = type(given).__name__
    return f"{'an' if name[:1].lower() in 'aeiou' else 'a'} {name}"
