"""The question what it costs to cut boxes first."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from reports.asking.options import OneSearch
from reports.asking.question import Question
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from rich.table import Table

    from reports.ask.job import Job
    from reports.asking.laying import LaysMarkers
    from reports.boxes.boxes import Boxes, BoxesAsked
    from reports.schema.written_answer import WrittenAnswer


class BoxesOptions(NamedTuple):
    """The boxes whose sizes are given."""

    box: Annotated[
        list[str] | None,
        typer.Option(
            "--box",
            metavar="BOX",
            help='Pieces, then length along the grain x width: "back + front: 28 in x 55 in". Repeat for more;'
            " every other piece has the least box about it.",
        ),
    ] = None


class BoxesFirst(Question["BoxesAsked", "Boxes"]):
    """Say what it costs to cut rectangles first and shape the pieces on the table: boxes beside outlines."""

    name = "boxes"
    example = 'ellwand boxes jacket.toml --box "back + front: 28 in x 55 in" --out jacket-boxes'
    Options = BoxesOptions
    search = OneSearch
    usual = Effort()

    def read(self, subject: Job, options: BoxesOptions) -> BoxesAsked:
        """Read the boxes."""
        from reports.boxes.box import BoxAsked
        from reports.boxes.boxes import BoxesAsked

        return BoxesAsked(subject, tuple(map(BoxAsked.parse, options.box or ())))

    def lay(self, posed: BoxesAsked, laying: LaysMarkers) -> Boxes:
        """Lay boxes and outlines on each cloth."""
        from reports.boxes.boxes import compare_boxes

        with laying.watched(posed.job.written_in) as effort:
            return compare_boxes(posed, effort)

    def plain(self, found: Boxes) -> dict[str, Any]:
        """Both purchases of each cloth, with their layouts."""
        from reports.boxes.plain import boxes_to_plain

        return boxes_to_plain(found)

    def words(self, found: Boxes) -> Iterator[Table | str]:
        """The table of boxes, and what they cost."""
        from reports.boxes.words import boxes_lines, boxes_table

        yield boxes_table(found)
        yield from boxes_lines(found)

    def files(self, posed: BoxesAsked) -> list[str]:
        """The answer as data and in words, and a drawing of each cloth laid each way."""
        from reports.boxes.files import box_files

        return box_files(posed.job)

    def write(self, found: Boxes, folder: Path) -> list[Path]:
        """Write them."""
        from reports.boxes.files import write_boxes

        return write_boxes(found, folder)

    def schema(self) -> WrittenAnswer:
        """Boxes beside outlines."""
        from reports.boxes.schema import BoxesAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("what cutting boxes first costs", BoxesAnswer)
