"""The curve: how long a marker is, and what it costs, on cloth of each width; and the widths where it steps."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import nan
from typing import TYPE_CHECKING, Any

from nesting.edit.abreast import Beside, widths_beside
from nesting.errors import NestingError
from reports.ask.draft import draft_job
from reports.batch.series import Series, WidthMarker, laid_as, lay_all, none_will_do
from reports.chart.chart import cell_to_plain
from reports.plan.plain import SCHEMA
from reports.plan.problems import whole_from
from reports.widths.conversion import BASE, ratios, source

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.cloth.spread import Spread
    from reports.ask.choices import SpreadAsked
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.batch.series import Lay
    from reports.plan.effort import Effort

LEAST_STEP = 0.03
"""A fall of the marker from one width to the next by less than this share is no step."""

MOST_STEPS = 8
"""Steps marked at most, the largest."""

MOST_TOGETHER = 3
"""Pieces looked at together for the cause of a step."""


@dataclass(frozen=True)
class WidthStep:
    """A fall of the curve: the widths before and after it, by how much, mm, and what starts to fit between them."""

    before: WidthMarker
    after: WidthMarker
    causes: tuple[tuple[Spread, Beside], ...]

    @property
    def fall(self) -> float:
        """By how much the marker gets shorter, mm."""
        return self.before.length - self.after.length


@dataclass(frozen=True)
class WidthCurve:
    """Markers on cloth of many widths."""

    job: Job
    cloth: FabricOffer
    series: Series
    effort: Effort

    def lay(self, lay: Lay) -> None:
        """Lay everything."""
        lay_all([self.series], self.effort, lay)

    @cached_property
    def cells(self) -> list[WidthMarker]:
        """The answers, by width; asked for once they are laid."""
        found = (self.series.cell(number) for number in range(len(self.series.widths)))
        return [cell for cell in found if cell is not None]

    @cached_property
    def refusals(self) -> list[tuple[float, NestingError]]:
        """Widths on which nothing can be laid, and why."""
        found = ((width, self.series.refusal(number)) for number, width in enumerate(self.series.widths))
        return [(width, error) for width, error in found if error is not None]

    @cached_property
    def besides(self) -> list[tuple[Spread, Beside]]:
        """Where pieces start to fit, among the widths asked for, in the spreads that are the best on some width."""
        low, high = self.series.widths[0], self.series.widths[-1]
        return [
            (spread, beside)
            for spread, beside in self._all_besides
            if len(beside.names) <= 2 and low < beside.width <= high and spread in {c.spread for c in self.cells}
        ]

    @cached_property
    def _all_besides(self) -> list[tuple[Spread, Beside]]:
        found = []
        as_bought = self.cloth.width / self.cloth.fabric().width  # cloth that is washed first gets narrower
        for spread in self.series.spreads:
            try:
                besides = widths_beside(
                    self.series.pieces,
                    self.cloth.fabric(),
                    spread,
                    most=MOST_TOGETHER,
                    waste_twins=self.cloth.waste_twins,
                )
            except NestingError:
                continue
            found += [(spread, beside._replace(width=beside.width * as_bought)) for beside in besides]
        return sorted(found, key=lambda each: each[1].width)

    @cached_property
    def steps(self) -> list[WidthStep]:
        """The largest falls of the curve, by width."""
        pairs = list(zip(self.cells, self.cells[1:], strict=False))
        falls = [(a, b) for a, b in pairs if b.length < a.length * (1 - LEAST_STEP)]
        largest = sorted(falls, key=lambda pair: pair[1].length - pair[0].length)[:MOST_STEPS]
        return [WidthStep(a, b, self._causes(a, b)) for a, b in pairs if (a, b) in largest]

    def _causes(self, before: WidthMarker, after: WidthMarker) -> tuple[tuple[Spread, Beside], ...]:
        """What starts to fit between two widths in the wider one's spread: the fewest pieces that explain it."""
        near = [
            (spread, beside)
            for spread, beside in self._all_besides
            if spread == after.spread and before.width < beside.width <= after.width + 1e-6
        ]
        fewest = min((len(beside.names) for _, beside in near), default=0)
        return tuple((spread, beside) for spread, beside in near if len(beside.names) == fewest)

    def table(self) -> list[dict[str, str | float | bool]]:
        """A row for each width, narrowest first, units in the names of the keys: ready for a data frame.

        Where nothing can be laid, or nothing was searched, ``refused`` says why, and lengths are no numbers (NaN).
        """
        rows = [_row(self.cloth.name, cell.width, "", cell) for cell in self.cells]
        rows += [_row(self.cloth.name, width, str(error)) for width, error in self.refusals]
        rows += [_row(self.cloth.name, width, "not searched") for width in self.series.not_searched]
        return sorted(rows, key=lambda row: row["width_mm"])

    def by_table(self) -> list[tuple[float, float, float, float, float | None]]:
        """Published widths: least, mean and greatest length by the table, set equal at 45 in, and the length laid.

        Empty unless 45 in is among the widths laid.
        """
        laid = {round(cell.width, 3): cell.length for cell in self.cells}
        base = laid.get(round(BASE, 3))
        if base is None:
            return []
        low, high = self.cells[0].width, self.cells[-1].width
        return [
            (width, base * least, base * mean, base * most, laid.get(round(width, 3)))
            for width, (least, mean, most) in ratios().items()
            if low - 1e-6 <= width <= high + 1e-6
        ]


def _row(cloth: str, width: float, refused: str, cell: WidthMarker | None = None) -> dict[str, str | float | bool]:
    bought = cell.purchase if cell else None
    return {
        "cloth": cloth,
        "width_mm": float(width),
        "spread": cell.spread if cell else "",
        "cloth_mm": float(cell.length) if cell else nan,
        "bound_mm": float(cell.bound) if cell else nan,
        "density_percent": 100 * float(cell.marker.density) if cell else nan,
        "buy": bought.text if bought else "",
        "buy_mm": float(bought.buy) if bought else nan,
        "cost": nan if cell is None or cell.cost is None else float(cell.cost),
        "refused": refused,
    }


def plan_curve(
    job: Job, cloth: FabricOffer, widths: Sequence[float], *, spread: SpreadAsked | None, effort: Effort
) -> WidthCurve:
    """Everything a curve needs laid; published widths among those asked for are laid as well.

    Raises
    ------
    PieceError, NestingError
        If the garment cannot be drafted, or no width will do: what the widest lacks.
    """
    published = [width for width in ratios() if widths[0] - 1e-6 <= width <= widths[-1] + 1e-6]
    extra = [width for width in published if all(abs(width - other) > 1e-3 for other in widths)]
    every = sorted([*widths, *extra])
    pieces = whole_from(cloth, job, draft_job(job))
    series = Series(pieces, laid_as(cloth, spread), every, job.garments)
    if not series.settled:
        raise none_will_do(series)
    return WidthCurve(job, cloth, series, effort)


def curve_to_plain(curve: WidthCurve) -> dict[str, Any]:
    """The curve for machines, every length in mm."""
    return {
        "schema": SCHEMA,
        "job": curve.job.name,
        "units": curve.job.units,
        "fabric": curve.cloth.name,
        **curve.effort.to_plain(),
        "cut_short": bool(curve.series.not_searched),
        "not_searched_mm": curve.series.not_searched,
        "widths": [{"width_mm": cell.width} | cell_to_plain(cell) for cell in curve.cells],
        "refused": [{"width_mm": width, "reason": str(error)} for width, error in curve.refusals],
        "steps": [
            {
                "from_mm": step.before.width,
                "to_mm": step.after.width,
                "fall_mm": step.fall,
                "fits": [{"pieces": list(b.names), "width_mm": b.width, "spread": s} for s, b in step.causes],
            }
            for step in curve.steps
        ],
        "beside": [{"pieces": list(b.names), "width_mm": b.width, "spread": s} for s, b in curve.besides],
        "table": {
            "source": source(),
            "rows": [
                {"width_mm": width, "least_mm": least, "mean_mm": mean, "most_mm": most, "laid_mm": laid}
                for width, least, mean, most, laid in curve.by_table()
            ],
        },
    }
