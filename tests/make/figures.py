"""Bodies of all tables of sizes, and any others, for garments."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

from pieces import Body
from pieces.body.corrections import CORRECTIONS, corrections_of
from pieces.body.ranges import usual_range
from pieces.body.sizes import TABLES, find_table
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from collections.abc import Iterator

WEARERS = ("women", "men", "children")


def sized_bodies() -> Iterator[tuple[str, Body]]:
    """Each size of each table, by a name of its own."""
    for name in TABLES:
        table = find_table(name)
        for size in table.sizes:
            yield f"{name} {size}", table.body(size)


def any_bodies(*names: str) -> st.SearchStrategy[Body]:
    """Bodies with those measurements, each anywhere in its usual range, and up to two corrections."""

    def of(wearer: Any) -> st.SearchStrategy[Body]:
        spans = {name: usual_range(wearer, name) for name in names}
        measures = st.fixed_dictionaries({name: st.floats(span.low, span.high) for name, span in spans.items()})
        tried = st.dictionaries(st.sampled_from(sorted(CORRECTIONS)), st.floats(0, 30), max_size=2)
        return st.builds(
            lambda sizes, asked: Body(**in_mm(sizes), tried_on=corrections_of(asked), wearer=wearer), measures, tried
        )

    return st.sampled_from(WEARERS).flatmap(of)
