"""The question how a marker's length changes with the width of the cloth."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, NamedTuple

import typer

from reports.asking.options import HowSpread, Tube
from reports.asking.question import PageQuestion

if TYPE_CHECKING:
    from collections.abc import Iterator

    from rich.table import Table

    from reports.ask.choices import SpreadAsked
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.asking.laying import LaysMarkers
    from reports.schema.written_answer import WrittenAnswer
    from reports.widths.widths import WidthCurve


class WidthsOptions(NamedTuple):
    """Which widths, and how the cloth lies."""

    low: Annotated[str | None, typer.Option("--from", metavar="WIDTH", help="Narrowest; by default 36 in.")] = None
    high: Annotated[str | None, typer.Option("--to", metavar="WIDTH", help="Widest; by default 72 in.")] = None
    step: Annotated[str | None, typer.Option("--step", metavar="LENGTH", help="By default 1 in.")] = None
    spread: HowSpread = None
    tube: Tube = None


class WidthsAsked(NamedTuple):
    """The cloth, its full widths, mm, and how it is to lie."""

    job: Job
    cloth: FabricOffer
    widths: list[float]
    spread: SpreadAsked | None


class Widths(PageQuestion[WidthsAsked, "WidthCurve"]):
    """Say how the marker's length changes with the width of the cloth, where it steps, and why."""

    name = "widths"
    example = 'ellwand widths jacket.toml --from "36 in" --to "72 in" --out jacket-widths'
    Options = WidthsOptions
    titles: ClassVar[dict[str, str]] = {"widths": "Length on cloth of each width"}

    def read(self, subject: Job, options: WidthsOptions) -> WidthsAsked:
        """Work out the widths."""
        from reports.ask.opened import opened_widths
        from reports.batch.series import cloth_of, width_range

        cloth = cloth_of(subject)
        every = width_range(options.low, options.high, options.step, subject.written_in)
        return WidthsAsked(subject, cloth, opened_widths(every, cloth, options.tube), options.spread)

    def lay(self, posed: WidthsAsked, laying: LaysMarkers) -> WidthCurve:
        """Lay the pieces on each width."""
        from reports.widths.widths import plan_curve

        curve = plan_curve(posed.job, posed.cloth, posed.widths, spread=posed.spread, effort=laying.effort)
        curve.lay(laying.many)
        return curve

    def plain(self, found: WidthCurve) -> dict[str, Any]:
        """The curve."""
        from reports.widths.widths import curve_to_plain

        return curve_to_plain(found)

    def words(self, found: WidthCurve) -> Iterator[Table | str]:
        """A table of the widths, and where the curve steps."""
        from reports.widths.words import curve_lines, curve_table

        yield curve_table(found)
        yield from curve_lines(found)

    def files(self, posed: WidthsAsked) -> list[str]:
        """The curve as data, in words and as a picture."""
        from reports.widths.files import curve_files

        return [path.name for path in curve_files(Path())]

    def write(self, found: WidthCurve, folder: Path) -> list[Path]:
        """Write them."""
        from reports.widths.files import write_curve

        return write_curve(found, folder)

    def schema(self) -> WrittenAnswer:
        """The marker's length on each width."""
        from reports.schema.written_answer import WrittenAnswer
        from reports.widths.schema import WidthsAnswer

        return WrittenAnswer("the marker's length by the cloth's width", WidthsAnswer)
