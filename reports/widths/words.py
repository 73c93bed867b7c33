"""The curve for people: a table, and in words where it steps and how the published table compares."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table

from pieces.units import Units, format_bound, format_need, format_size, percent_reached
from reports.ask.offer import unsaid
from reports.plan.piecing import ClothAcross
from reports.plan.words import SPREAD_WORDS
from reports.widths.conversion import BASE, source
from reports.widths.widths import LEAST_STEP

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.edit.abreast import Beside
    from reports.widths.widths import WidthCurve, WidthStep


def curve_table(curve: WidthCurve) -> Table:
    """Every width: how it is laid, how long the marker is, what to buy and what it costs."""
    units, price = curve.job.written_in, curve.cloth.price
    table = Table(
        title="Widths", title_justify="left", title_style="bold", box=None, pad_edge=False, padding=(0, 2, 0, 0)
    )
    for name in ("width", "laid", "marker", "buy", "cost", "used"):
        table.add_column(name, justify="left" if name == "laid" else "right", header_style="dim")
    laid: dict[float, tuple[str, ...]] = {width: ("not searched",) for width in curve.series.not_searched}
    for cell in curve.cells:
        laid[cell.width] = (
            cell.spread,
            format_need(cell.length, units),
            f"[bold]{cell.purchase.text}[/bold]",
            "" if cell.cost is None or price is None else price.write(cell.cost),
            percent_reached(cell.marker.density),
        )
    for width in sorted(laid):
        table.add_row(format_size(width, units), *laid[width])
    return table


def curve_lines(curve: WidthCurve) -> Iterator[str]:
    """The curve in plain words: where it steps and why, where pieces start to fit, how the published table compares."""
    units = curve.job.written_in
    yield from unsaid([curve.cloth], units)
    if missing := curve.series.not_searched:
        yield (
            f"Cut short: {len(missing)} of {len(curve.series.widths)} widths were not searched, the first of them"
            f" {format_size(missing[0], units)}. Run the command again to search them."
        )
    if curve.job.garments > 1:
        yield f"Lengths are for {curve.job.garments} garments."
    for width, error in curve.refusals[-1:]:
        yield f"Nothing fits on cloth up to {format_bound(width, units)} wide: {error}."
    yield from _piecing_lines(curve)
    for number, step in enumerate(curve.steps, 1):
        yield step_line(number, step, units)
    if not curve.steps and len(curve.cells) > 1:
        yield f"The curve has no step: the marker never falls by {LEAST_STEP:.0%} from one width to the next."
    if curve.besides:
        yield "Where pieces start to fit side by side, measured as boxes (on narrower cloth they don't):"
        for spread, beside in curve.besides:
            yield f"  {format_need(beside.width, units)}: {fits_words(beside)}, {SPREAD_WORDS[spread]}"
    yield from table_lines(curve)


def _piecing_lines(curve: WidthCurve) -> Iterator[str]:
    """Of each shape that is pieced on some width: from which width on it is of how many parts."""
    units, said = curve.job.written_in, dict[str, list[tuple[float, int]]]()
    for cell in curve.cells:
        across = ClothAcross.of_offer(curve.cloth.model_copy(update={"width": cell.width}))
        for name, parts in across.parts(curve.series.pieces).items():
            known = said.setdefault(name, [])
            if not known or known[-1][1] != parts:
                known.append((cell.width, parts))
    for name, steps in said.items():
        if any(parts > 1 for _, parts in steps):
            of = ", ".join(
                f"{'whole' if parts == 1 else f'{parts} parts'} from {format_size(width, units)}"
                for width, parts in steps
            )
            yield f"{name}, pieced where the cloth is too narrow: {of}."


def step_line(number: int, step: WidthStep, units: Units) -> str:
    """One step in words."""
    line = (
        f"Step {number}: {format_size(step.after.width, units)} wide takes {format_bound(step.fall, units)} less"
        f" than {format_size(step.before.width, units)}"
    )
    if step.before.spread != step.after.spread:
        line += f"; it is laid otherwise ({SPREAD_WORDS[step.after.spread]})"
    if step.causes:
        causes = "; ".join(f"{fits_words(b)} from {format_need(b.width, units)}" for _, b in step.causes[:3])
        more = len(step.causes) - 3
        return f"{line}: {causes}{f'; and {more} more' if more > 0 else ''}."
    return f"{line}: no two or three pieces start to fit there; the whole layout changes."


def fits_words(beside: Beside) -> str:
    """What starts to fit, in words."""
    first, *rest = beside.names
    if not rest:
        return f"{first} fits at all"
    if len(set(beside.names)) == 1:
        return f"{len(beside.names)} × {first} fit beside one another"
    return f"{first} fits beside {' and '.join(rest)}"


def table_lines(curve: WidthCurve) -> Iterator[str]:
    """How the published table compares."""
    rows, units = curve.by_table(), curve.job.written_in
    if len(rows) < 2:
        return
    yield f"Beside it {source()}, set equal at {format_size(BASE, units)}:"
    for width, least, mean, most, laid in rows:
        if laid is None or abs(width - BASE) < 1e-3:
            continue
        off = laid / mean - 1
        where = "within its range" if least - 1 <= laid <= most + 1 else "outside its range"
        yield (
            f"  {format_size(width, units)}: {format_need(mean, units)} by the table ({format_need(least, units)} to"
            f" {format_need(most, units)}), {format_need(laid, units)} laid: {off:+.0%}, {where}"
        )
