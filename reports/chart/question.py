"""The question how much cloth each size takes on each width."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, NamedTuple

import typer

from reports.ask.choices import NapAsked
from reports.asking.options import HowSpread, Sizes, Tube, WidthList
from reports.asking.question import PageQuestion

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.table import Table

    from reports.ask.choices import SpreadAsked
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.ask.sizes import Size
    from reports.asking.laying import LaysMarkers
    from reports.chart.chart import Chart
    from reports.schema.written_answer import WrittenAnswer


class ChartOptions(NamedTuple):
    """Which widths and sizes, and how the cloth lies."""

    widths: WidthList = None
    sizes: Sizes = None
    nap: Annotated[NapAsked, typer.Option(help="Whether the cloth has a nap, has none, or both.")] = "both"
    spread: HowSpread = None
    tube: Tube = None


class ChartAsked(NamedTuple):
    """The cloth, its full widths, mm, the sizes, and how the cloth is to lie."""

    job: Job
    cloth: FabricOffer
    widths: list[float]
    sizes: list[Size]
    nap: NapAsked
    spread: SpreadAsked | None


class YardageChart(PageQuestion[ChartAsked, "Chart"]):
    """Say how much cloth each size takes on each width, with and without a nap, as on a pattern envelope."""

    name = "chart"
    example = 'ellwand chart jacket.toml --widths "45 in, 60 in" --out jacket-chart'
    Options = ChartOptions
    titles: ClassVar[dict[str, str]] = {"chart": "Yardage by size and width"}

    def read(self, subject: Job, options: ChartOptions) -> ChartAsked:
        """Work out widths and sizes."""
        from reports.ask.opened import opened_widths
        from reports.ask.sizes import graded_sizes, read_sizes
        from reports.batch.series import cloth_of, width_list

        cloth = cloth_of(subject)
        every = opened_widths(width_list(options.widths, subject.written_in), cloth, options.tube)
        sizes = read_sizes(options.sizes, subject) if options.sizes else graded_sizes(subject)
        return ChartAsked(subject, cloth, every, sizes, options.nap, options.spread)

    def lay(self, posed: ChartAsked, laying: LaysMarkers) -> Chart:
        """Lay each size on each width."""
        from reports.chart.chart import plan_chart

        chart = plan_chart(
            posed.job,
            posed.cloth,
            posed.sizes,
            posed.widths,
            nap=posed.nap,
            spread=posed.spread,
            effort=laying.effort,
        )
        chart.lay(laying.many)
        return chart

    def plain(self, found: Chart) -> dict[str, Any]:
        """The chart."""
        from reports.chart.chart import chart_to_plain

        return chart_to_plain(found)

    def words(self, found: Chart) -> Iterator[Table | str]:
        """The sizes, the yardage, and what to know of them."""
        from reports.chart.words import chart_lines, size_table, yardage_table

        yield size_table(found)
        yield yardage_table(found)
        yield from chart_lines(found)

    def files(self, posed: ChartAsked) -> list[str]:
        """The chart as data, as a table, in words and as a picture."""
        from reports.chart.files import chart_files

        return [path.name for path in chart_files(Path())]

    def write(self, found: Chart, folder: Path) -> list[Path]:
        """Write them."""
        from reports.chart.files import write_chart

        return write_chart(found, folder)

    def schema(self) -> WrittenAnswer:
        """Yardage by size and width."""
        from reports.chart.schema import ChartAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("yardage by size and width", ChartAnswer, 2)
