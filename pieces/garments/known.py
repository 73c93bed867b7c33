"""All garments there are: those built in, and those that other packages register under `ellwand.garments`.

A package is only loaded when its garment is asked for, or all are listed. One that cannot be loaded is named with the
reason, and breaks nothing else.
"""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass, replace
from functools import cache, wraps
from importlib.metadata import entry_points
from typing import TYPE_CHECKING, Any, NamedTuple, get_args, get_type_hints

from pieces.body.measures import MEASURES
from pieces.errors import GarmentError, PieceError
from pieces.garments import GARMENTS
from pieces.garments.garment import Garment, OptionKind
from pieces.garments.style import GarmentStyle
from pieces.piece.pieces import PieceSet
from pieces.require import told

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from importlib.metadata import EntryPoint

GROUP = "ellwand.garments"
"""The entry point under which packages register garments: name and `Garment`, the name as the garment has it."""

RESERVED = "imported"
"""What a job calls pieces of a file; no garment bears it."""

NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
SKETCH = re.compile(r"[MmLlHhVvCcSsQqTtAaZz0-9eE\s.,+-]*")
LONGEST_NAME, LONGEST_TITLE, LONGEST_SKETCH = 40, 80, 10_000


class NotLoaded(NamedTuple):
    """A garment by others that cannot be had: its name, the package that registers it, and the reason."""

    name: str
    package: str
    reason: str


def garment_names() -> tuple[str, ...]:
    """What a job may ask for: the built-in garments, then those by others, by name; none is loaded for it."""
    return (*GARMENTS, *sorted(set(_registered()) - {*GARMENTS, RESERVED}))


def find_garment(name: str) -> Garment:
    """A garment, by the name a job calls it.

    Raises
    ------
    GarmentError
        If there is none of that name, or the package that registers it cannot be used.
    """
    if name in GARMENTS:
        return GARMENTS[name]
    if name not in _registered() or name == RESERVED:
        raise GarmentError(f"unknown garment {name!r}: choose {', '.join(garment_names())}")
    found = _loaded(name)
    if isinstance(found, NotLoaded):
        raise GarmentError(
            f"garment {name!r} of the package {found.package} is not loaded: {found.reason}; mend or remove the package"
        )
    return found


def known_garments() -> tuple[list[Garment], list[NotLoaded]]:
    """All garments, and those by others that cannot be had: every package that registers one is loaded."""
    others = [_loaded(name) for name in sorted(_registered())]
    loaded = [each for each in others if isinstance(each, Garment)]
    return [*GARMENTS.values(), *loaded], [each for each in others if isinstance(each, NotLoaded)]


def maker_of(name: str) -> str | None:
    """The package that a garment by others comes in; None for a built-in garment."""
    return None if name in GARMENTS else _package(_registered()[name][0])


@cache
def _registered() -> dict[str, tuple[EntryPoint, ...]]:
    """All that is registered, by name; two packages may register the same one."""
    found: dict[str, tuple[EntryPoint, ...]] = {}
    for entry in entry_points(group=GROUP):
        found[entry.name] = (*found.get(entry.name, ()), entry)
    return found


@cache
def _loaded(name: str) -> Garment | NotLoaded:
    """A garment by others, or why it cannot be had."""
    entries = _registered()[name]
    packages = " and ".join(dict.fromkeys(map(_package, entries)))
    if name in (*GARMENTS, RESERVED):
        return NotLoaded(name, packages, "ellwand has a garment of that name: choose another")
    if len(entries) > 1:
        return NotLoaded(name, packages, "it is registered twice: keep one")
    try:
        garment = entries[0].load()
    except (Exception, SystemExit) as error:  # whatever the package does, the program goes on
        return NotLoaded(name, packages, _told(error))
    fault = _fault(name, garment)
    return NotLoaded(name, packages, fault) if fault else _guarded(garment, packages)


def _package(entry: EntryPoint) -> str:
    return f"{entry.dist.name} {entry.dist.version}" if entry.dist else entry.value


def _told(error: BaseException) -> str:
    """An error on one line."""
    words = " ".join(str(error).split())
    return f"{type(error).__name__}: {words}" if words else type(error).__name__


def _fault(name: str, garment: Any) -> str:
    """What is wrong with that which was loaded; empty if nothing is."""
    if not isinstance(garment, Garment):
        return f"it is {told(garment)}, not a Garment"
    if garment.name != name:
        return f"the garment calls itself {garment.name!r}: register it by that name"
    if not (NAME.fullmatch(name) and len(name) <= LONGEST_NAME):
        return f"{name!r} is not a name: write small letters and digits, words joined by -, {LONGEST_NAME} at most"
    title = garment.title
    if not (isinstance(title, str) and title.strip() and title.isprintable() and len(title) <= LONGEST_TITLE):
        return f"its title must be one line of 1 to {LONGEST_TITLE} characters"
    unknown = [each for each in garment.measurements if each not in MEASURES]
    if unknown:
        return f"it needs {unknown[0]!r}, which is none of the measurements 'ellwand measures' lists"
    if not (isinstance(garment.sketch, str) and _is_sketch(garment.sketch)):
        return f"its sketch must be an SVG path of at most {LONGEST_SKETCH} characters"
    return _style_fault(garment.style)


def _is_sketch(path: str) -> bool:
    return len(path) <= LONGEST_SKETCH and SKETCH.fullmatch(path) is not None


def _style_fault(style: Any) -> str:
    """What is wrong with a class of options; empty if nothing is."""
    if not (isinstance(style, type) and issubclass(style, GarmentStyle) and is_dataclass(style)):
        return "its style must be a class derived from GarmentStyle"
    options: dict[str, Mapping[str, Any]] = {each.name: each.metadata for each in fields(style)}
    for name, said in options.items():
        if said.get("kind") not in get_args(OptionKind) or not said.get("help"):
            return f"its option {name!r} must be made by option(default, help, kind)"
    if "seam" not in options or options["seam"]["kind"] != "length":
        return "its style needs the option 'seam', a length: the seam allowance"
    try:
        hints = get_type_hints(style)
        style()
    except Exception as error:  # the package's own code
        return f"its style cannot be made of defaults: {_told(error)}"
    wordless = [name for name, said in options.items() if said["kind"] == "choice" and not get_args(hints[name])]
    return f"its option {wordless[0]!r} is a choice: type it Literal[...]" if wordless else ""


def _guarded(garment: Garment, package: str) -> Garment:
    """The garment, whose own errors are told in one line, and whose pieces are checked."""

    def guarding(work: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(work)
        def guarded(*arguments: Any) -> Any:
            try:
                return work(*arguments)
            except PieceError:
                raise
            except Exception as error:  # the package's own code
                said = f"garment '{garment.name}' of the package {package} failed: {_told(error)}"
                raise GarmentError(f"{said}; report it to those who make it") from error

        return guarded

    def drafting(body: Any, style: Any) -> PieceSet:
        pieces = garment.drafting(body, style)
        if not isinstance(pieces, PieceSet):
            raise TypeError(f"its draft gives a {type(pieces).__name__}, not a PieceSet")
        pieces.check()
        return pieces

    return replace(
        garment,
        drafting=guarding(drafting),
        trims=garment.trims and guarding(garment.trims),
        steps=garment.steps and guarding(garment.steps),
        title_in=garment.title_in and guarding(garment.title_in),
    )
