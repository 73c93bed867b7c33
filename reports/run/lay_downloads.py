"""The files of one lay of a run: at full size, for other programs, and to cut by tape and chalk."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from reports.asking.download import Download

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from reports.run.plan import RunPlan

BY_HAND = "-by-hand"
"""What the names of a lay's files end in that was laid by hand."""

FORMS = ("dxf", "csv")


def lay_downloads(ticket: int, *, is_by_hand: bool) -> Iterator[Download]:
    """The files of a lay, as it was planned or as it was laid by hand."""
    name, title = f"lay-{ticket}", f"Marker of lay {ticket}"
    if is_by_hand:
        name, title = name + BY_HAND, f"{title}, laid by hand"
        yield Download(f"{name}.json", title, name)
    yield Download(f"{name}-full-size.pdf", f"{title}, full size", name)
    yield from (Download(f"{name}.{form}", f"{title}, full size", name) for form in FORMS)
    yield Download(f"{name}-check.pdf", f"{title}, check sheet of the outlines", name)
    yield Download(f"{name}-guide.txt", f"{title}, to cut by tape and chalk", name)


def write_lay(run: RunPlan, name: str, folder: Path) -> None:
    """Write the files of a lay, called as they are."""
    from reports.checksheet.files import write_check_sheets
    from reports.export.files import write_marker
    from reports.guide.guide import guide_of
    from reports.guide.words import guide_lines, guide_title
    from reports.output import write_text
    from reports.run.lay_marker import lay_to_plain
    from reports.run.on_paper import print_lay

    ticket = int(name.removesuffix(BY_HAND).removeprefix("lay-"))
    lay = run.by_hand[ticket] if name.endswith(BY_HAND) else run.lays[ticket - 1]
    write_text(folder / f"{name}.json", json.dumps(lay_to_plain(lay, run.order)))
    print_lay(lay, run.order, folder / f"{name}-full-size.pdf", None)
    paths = [folder / f"{name}.{form}" for form in FORMS]
    write_marker(lay, paths)
    write_check_sheets(f"{run.order.title}: {lay.lay.title}", paths, run.order.written_in)
    guide = guide_of(lay, run.order.written_in, run.order.cutting.tool)
    lines = guide_lines(guide, guide_title(run.order, guide))
    write_text(folder / f"{name}-guide.txt", "\n".join(lines) + "\n")
