"""What has changed since an answer was found: field by field, from what to what, as the trade says it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from pieces.errors import PieceError
from pieces.garments.groups import label_of
from pieces.garments.known import find_garment, garment_names
from pieces.units import parse_length
from reports.ask.job import Job
from reports.ask.offer import FabricOffer, RibOffer
from reports.ask.order.entries import Trim
from reports.ask.order.order import Cutting, Order, RunFabric, RunRib, Tolerance
from reports.ask.pricing import Operation, Pricing
from reports.ask.trim import TrimOffer
from reports.ask.written import loads
from reports.errors import ReportError
from reports.money.price import Price
from reports.plan.words import SPREAD_WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pydantic import BaseModel

NOT_GIVEN = "not given"

MODELS: dict[str, tuple[type[BaseModel], ...]] = {
    "fabric": (FabricOffer, RunFabric),
    "rib": (RibOffer, RunRib),
    "cutting": (Cutting,),
    "tolerance": (Tolerance,),
    "trim": (TrimOffer, Trim),
    "operation": (Operation,),
    "pricing": (Pricing,),
    "": (Job, Order),
}
"""What says which value holds where a table leaves one out."""

LISTS = {"fabric": "cloth", "rib": "rib", "trim": "trim", "operation": "operation"}
"""Tables of which there are several, each with a name of its own, and what the trade calls one."""

NAMES = {
    "garments": "how many",
    "pieces_file": "pattern pieces",
    "grade_file": "grade rules",
    "body.wearer": "measured for",
    "examples": "rates that are examples",
}
"""Fields that are called otherwise than they are written."""

LONGEST = 200
"""Letters of a value that are shown."""

UNSEEN = ("units",)
"""What changes no answer: only how it is written."""

Path = tuple[str, ...]


class Change(NamedTuple):
    """A field that is no longer what it was; `name` is what the trade calls it."""

    field: str
    name: str
    was: str
    now: str


def changes(was: Mapping[str, Any], now: Mapping[str, Any]) -> list[Change]:
    """What of a search's payload, its job or its order, is no longer what it was.

    A length, a price or a default written in another way is the same.
    """
    try:
        before, after = _subject(was), _subject(now)
    except ReportError:
        return [] if was.get("order") == now.get("order") else [Change("", "order file", "as it was", "changed")]
    if after is None or before is None:
        return [Change("", "order", "complete", "not complete")]
    return list(_changes(before, after, str(after.get("garment"))))


def _subject(payload: Mapping[str, Any]) -> dict[str, Any] | None:
    """The job or the order, plain."""
    held = payload.get("order") or payload.get("job")
    return loads(held, "the order") if isinstance(held, str) else held


def _changes(was: dict[str, Any], now: dict[str, Any], garment: str) -> Iterator[Change]:
    for key in dict.fromkeys([*was, *now]):
        if key in UNSEEN:
            continue
        if key in LISTS:
            yield from _listed(key, *(_tables(held.get(key)) for held in (was, now)))
        else:
            yield from _within((key,), was.get(key), now.get(key), garment)


def _within(path: Path, was: Any, now: Any, garment: str) -> Iterator[Change]:
    """Changes of a value, or of all that is in a table."""
    if isinstance(was, dict) or isinstance(now, dict):
        one, other = (held if isinstance(held, dict) else {} for held in (was, now))
        for key in dict.fromkeys([*one, *other]):
            yield from _within((*path, str(key)), one.get(key), other.get(key), garment)
    elif not _same(*(held := [_or_default(path, one, garment) for one in (was, now)])):
        yield Change(".".join(path), _name(path), *_both(path[-1], was, now, held))


def _tables(held: Any) -> list[dict[str, Any]]:
    return [one for one in held if isinstance(one, dict)] if isinstance(held, list) else []


def _listed(key: str, was: list[dict[str, Any]], now: list[dict[str, Any]]) -> Iterator[Change]:
    """Changes of cloths and their like: matched by name, those without a match by their place."""
    known = {_called(one): number for number, one in enumerate(was)}
    pairs = {number: known[_called(one)] for number, one in enumerate(now) if _called(one) in known}
    free = set(range(len(was))) - set(pairs.values())
    pairs |= {number: number for number in range(len(now)) if number not in pairs and number in free}
    for number, one in enumerate(now):
        title = f"{LISTS[key]} '{_called(one) or number + 1}'"
        if number not in pairs:
            yield Change(f"{key}.{number}", title, "not there", "added")
            continue
        before = was[pairs[number]]
        for name in dict.fromkeys([*before, *one]):
            path = (key, name)
            held = [_or_default(path, each.get(name)) for each in (before, one)]
            if not _same(*held):
                said = _both(name, before.get(name), one.get(name), held)
                yield Change(f"{key}.{number}.{name}", f"{title}: {_spoken(name)}", *said)
    for number in sorted(set(range(len(was))) - set(pairs.values())):
        yield Change(key, f"{LISTS[key]} '{_called(was[number]) or number + 1}'", "there", "taken out")


def _called(one: dict[str, Any]) -> str:
    return " ".join(str(one.get("name") or "").split())


def _or_default(path: Path, value: Any, garment: str = "") -> Any:
    """A value, or what holds where it is left out."""
    if value is not None:
        return value
    if path[0] == "style" and garment in garment_names():
        return next((option.default for option in find_garment(garment).options() if option.name == path[-1]), None)
    fields = [model.model_fields.get(path[-1]) for model in MODELS.get(path[0] if len(path) > 1 else "", ())]
    return next((field.default for field in fields if field is not None and not field.is_required()), None)


def _same(was: Any, now: Any) -> bool:
    """Whether two values mean the same."""
    if was == now:
        return True
    if isinstance(was, bool) or isinstance(now, bool) or was is None or now is None:
        return False
    for read in (_length, Price.parse):
        try:
            one, other = read(was), read(now)
        except (PieceError, ReportError, ValueError, TypeError):
            continue
        return abs(one - other) < 1e-6 if isinstance(one, float) and isinstance(other, float) else one == other
    return False


def _length(value: Any) -> float:
    return float(value) if isinstance(value, int | float) else parse_length(value)


def _name(path: Path) -> str:
    """What the trade calls a field."""
    if ".".join(path) in NAMES:
        return NAMES[".".join(path)]
    if path[0] == "quantity" and len(path) == 3:
        return f"{path[1]}, size {path[2]}"
    if path[0] == "style":
        label = label_of(path[-1])
        return label[0].lower() + label[1:]
    return _spoken(path[-1]) if path[0] in ("body", "style", "cutting", "pricing") else ", ".join(map(_spoken, path))


def _spoken(name: str) -> str:
    return name.replace("_", " ")


def _both(name: str, was: Any, now: Any, held: list[Any]) -> tuple[str, str]:
    """Both values in words; `held` are those that hold, where one is left out."""
    if name == "pieces_file":  # no one knows them by the names they are kept under
        return "those of the file before" if was else "drafted", "those of another file" if now else "drafted"
    # A default that is a length is a bare number here, and no one's words.
    first, second = (
        one if given is None and isinstance(one, str | int) else given
        for given, one in zip((was, now), held, strict=True)
    )
    return _said(first), _said(second)


def _said(value: Any) -> str:
    """A value in words, cut short."""
    if value is None:
        return NOT_GIVEN
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dict):
        return ", ".join(f"{_spoken(str(key))} {_said(one)}" for key, one in value.items())
    if isinstance(value, list):
        return "; ".join(map(_said, value)) or "none"
    return str(SPREAD_WORDS.get(value, value) if isinstance(value, str) else value)[:LONGEST]
