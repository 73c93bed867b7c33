"""An order's file, and the plan of its run, as an entry tells them."""

from __future__ import annotations

import json
from collections import defaultdict
from typing import TYPE_CHECKING, Any

from reports.ask.job import read_text
from reports.ask.order.order import read_order
from reports.errors import LedgerError
from reports.run.garments import draft_all

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path

    from reports.ask.order.order import Order


def order_in_files(path: Path, run: Path | None = None, name: str | None = None) -> dict[str, Any]:
    """What an entry tells of an order.

    Parameters
    ----------
    path
        The order's file.
    run
        The ``run.json`` that `run` wrote of it, for what was planned.
    name
        What to call it; by default as its file.

    Raises
    ------
    LedgerError
        If the plan cannot be read, or is of another order.
    JobError, PieceError
        If the order cannot be read or drafted.
    """
    order = read_order(path)
    return order_told(order, name or path.stem, None if run is None else _read_run(run))


def order_told(order: Order, name: str, run: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """The same of an order that was read; `run` is the answer of `run` for machines."""
    ordered = _by_colour((colour, size, number) for (colour, size), number in draft_all(order).ordered.items())
    told: dict[str, Any] = {
        "name": name,
        "garment": order.garment,
        "ordered": ordered,
        "operations": [
            {"name": one.name, "part": one.part, "minutes": one.minutes} for one in order.operation if one.minutes
        ],
    }
    return told if run is None else told | {"planned": _planned(run, ordered, order.name)}


def _read_run(path: Path) -> dict[str, Any]:
    try:
        run = json.loads(read_text(path, "run"))
    except (ValueError, RecursionError) as error:
        raise LedgerError(f"{path} is not JSON: name the run.json that 'ellwand run' wrote") from error
    if not isinstance(run, dict):
        raise LedgerError(f"{path} is not a run: name the run.json that 'ellwand run' wrote")
    return run


def _planned(run: Mapping[str, Any], ordered: dict[str, dict[str, int]], name: str) -> dict[str, Any]:
    """What a run planned; LedgerError if it is of another order, or of no run."""
    try:
        kinds = [(one["colour"], one["size"], one["ordered"], one["cut"]) for one in run["garments"]]
        cloth: dict[str, float] = defaultdict(float)
        for lot in run["lots"]:
            for one in lot["cloths"].values():
                if one["spread_mm"]:
                    cloth[one["name"]] += one["spread_mm"]
        minutes = run["cutting_minutes"]
        of = _by_colour((colour, size, number) for colour, size, number, _ in kinds)
        cut = _by_colour((colour, size, number) for colour, size, _, number in kinds)
    except (KeyError, TypeError, AttributeError) as error:
        raise LedgerError(f"the plan of {name} is not of this version: run 'ellwand run' again") from error
    if of != ordered:
        raise LedgerError(f"the plan is not of {name}: it has other garments; run 'ellwand run' again")
    return {"cut": cut, "cloth": dict(cloth), "cutting_minutes": minutes}


def _by_colour(kinds: Iterable[tuple[str, str, int]]) -> dict[str, dict[str, int]]:
    found: dict[str, dict[str, int]] = {}
    for colour, size, number in kinds:
        if number:
            found.setdefault(colour, {})[size] = number
    return found
