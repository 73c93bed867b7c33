"""The command `measures`: what each measurement is, and a picture of where the tape runs."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.asking.options import Output
from reports.commands.kit.terminal import emit, show, show_files

if TYPE_CHECKING:
    from collections.abc import Iterator

PICTURE = "measures.svg"


def measures(output: Output) -> None:
    """Show where the tape runs for each measurement; with --out, draw it."""
    from pieces.body.figure import draw_figure
    from pieces.body.measures import MEASURES
    from reports.output import refuse_overwriting, write_text

    written = [output.out / PICTURE] if output.out else []
    refuse_overwriting(written, force=output.force)
    for path in written:
        write_text(path, draw_figure())
    if output.as_json:
        emit(json.dumps({"schema": 3, "measures": {name: _to_plain(name) for name in MEASURES}}))
        return
    show(*measure_lines())
    show_files(written)


def _to_plain(name: str) -> dict[str, str | None]:
    from pieces.body.measures import MEASURES
    from pieces.body.rules import RULES

    measure, rule = MEASURES[name], RULES.get(name)
    told = {"how": measure.how, "term": measure.term, "clause": measure.clause}
    return {**told, "left_out": rule.words if rule else None, "source": rule.source if rule else None}


def measure_lines() -> Iterator[str]:
    """Each measurement on a line: its name in a job file, where the tape runs, and the standard's name for it."""
    from pieces.body.measures import MEASURES
    from pieces.body.rules import RULES

    for name, measure in MEASURES.items():
        yield f"{name}: {measure.how} ({measure.standard})"
        if name in RULES:
            yield f"  left out: {RULES[name].words} ({RULES[name].source})"
    yield "Terms and clauses are second-hand, not read in the standard. How to hold the tape: common practice."
