"""Legends on the shelf: taken from there for files that are read, and added to by what is learned of them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from pieces.exchange.decided.legend import legend_of
from reports.page.errors import TakenError
from reports.page.store.beside import LONGEST_NAME
from reports.page.store.shelf import Shelf

if TYPE_CHECKING:
    from pieces.exchange.decided.legend import LineLegend
    from reports.page.store.store import Store

KIND = "legend"


def legends_of(store: Store) -> list[LineLegend]:
    """All legends; the name of each is its id on the shelf."""
    those = (thing for thing in Shelf(store).all() if thing["kind"] == KIND)
    return [legend_of(thing["data"], thing["name"], thing["id"]) for thing in those]


def keep_learned(store: Store, data: dict[str, Any], used: str | None) -> dict[str, Any]:
    """Put what was learned in the legend that was used, or in a new one for its program; what is on the shelf now."""
    shelf = Shelf(store)
    legend = legend_of(data, "what was learned")
    if used:
        there = shelf.find(used)
        return shelf.change(used, there["version"], there["name"], legend.to_plain())
    name = legend.marks.words()[: LONGEST_NAME - 5]
    for number in range(1, 100):
        try:
            return shelf.add(KIND, name if number == 1 else f"{name} ({number})", legend.to_plain())
        except TakenError:
            continue
    raise TakenError(f"there are a hundred legends called '{name}': delete some in the notebook")
