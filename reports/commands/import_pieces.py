"""The command `import`: pattern files from elsewhere, read, mended, told of, and made ready to be laid."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from reports.apart import LIMITS
from reports.ask.choices import FileUnit, UnitsAsked
from reports.asking.options import Output
from reports.commands.kit.terminal import emit, show, show_files

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.exchange.decided.legend import LegendRule, LineLegend
    from pieces.exchange.imported import Imported
    from pieces.exchange.own.sidecar import Sidecar
    from pieces.units import Units


class Learned(NamedTuple):
    """What a legend learned: new entries, those that say something else now, and marks for which no rule holds."""

    rules: tuple[str, ...]
    changes: tuple[str, ...]
    without: tuple[str, ...]

    def words(self) -> list[str]:
        """For people."""
        said = [f"learned: {rule}" for rule in self.rules]
        said += [f"learned: {change}" for change in self.changes]
        said += [f"not learned: {mark}: in this file not all of its lines are what you say" for mark in self.without]
        return said or ["learned: nothing, for no [[line]] of the small file decides what the legend does not say"]

    def to_plain(self) -> dict[str, list[str]]:
        """For machines."""
        return {"rules": list(self.rules), "changes": list(self.changes), "without": list(self.without)}


PatternPath = Annotated[
    Path, typer.Argument(metavar="FILE", help="DXF, SVG, CSV or JSON outlines, or measured points in TOML.")
]


ReadingTime = Annotated[
    int, typer.Option(min=1, max=3600, metavar="SECONDS", help="Processor time it may take in all; memory grows along.")
]


def import_pieces(
    file: PatternPath,
    output: Output,
    units: Annotated[FileUnit | None, typer.Option(help="Unit of its numbers, in place of what the file says.")] = None,
    join: Annotated[str, typer.Option(metavar="LENGTH", help="Join line ends no further apart than this.")] = "0.5 mm",
    size: Annotated[str | None, typer.Option(metavar="SIZE", help="Which size to read.")] = None,
    grain: Annotated[
        float | None,
        typer.Option(metavar="DEGREES", help="Grain where none is drawn, counter-clockwise from the x axis."),
    ] = None,
    strict: Annotated[
        bool, typer.Option("--strict", help="Refuse a file if anything in it is mended, left out or guessed.")
    ] = False,
    per_inch: Annotated[
        float, typer.Option("--per-inch", metavar="NUMBER", help="Pixels to the inch, for --units px.")
    ] = 96.0,
    legend: Annotated[
        Path | None, typer.Option(metavar="FILE", help="What layers, colours and line styles stand for (TOML).")
    ] = None,
    learn: Annotated[bool, typer.Option("--learn", help="Add what the small file decides to the legend.")] = False,
    relearn: Annotated[bool, typer.Option("--relearn", help="Learn, also where the legend says otherwise.")] = False,
    grade: Annotated[
        bool, typer.Option("--grade", help="Write grade rules that lead to the other sizes in the file.")
    ] = False,
    seconds: ReadingTime = LIMITS.seconds,
    shown_in: Annotated[UnitsAsked, typer.Option("--show-in", help="Units of the sizes shown.")] = "cm",
) -> None:
    """Read pattern pieces from a file. Report what was found, mended and left out, and write the pieces for a job."""
    from pieces.exchange.imported import ReadingChoices
    from pieces.exchange.own.sidecar import write_sidecar
    from pieces.units import Units, parse_length
    from reports.ask.imported import GRADING, FileAsked, imported_files, read_file, write_imported
    from reports.output import refuse_overwriting

    out = output.out
    if out:
        refuse_overwriting([*imported_files(file, out), *([out / GRADING] if grade else [])], force=output.force)
    beside, known = known_beside(file, out)
    marks = read_legend(legend, learns=learn or relearn)
    asked = ReadingChoices(units, parse_length(join), size, grain, strict, per_inch, legend=marks)
    found, rules, said = read_file(file, FileAsked(asked, known, grade, out is not None), seconds)
    text = write_sidecar(found, file.name, asked.angle) if known is None else None
    learned = learn_legend(legend, found, known, changes=relearn) if legend and (learn or relearn) else None
    written = write_imported(found, file, out, Units(shown_in), text, rules) if out else []
    if output.as_json:
        emit(json.dumps(plain_reading(found, said, learned)))
        return
    show_read(found, Units(shown_in), beside, written, out, [*said, *(learned.words() if learned else [])])


def plain_reading(found: Imported, said: Sequence[str], learned: Learned | None) -> dict[str, Any]:
    """What was read, and learned, as plain data."""
    from pieces.exchange.own.plain import to_plain

    told = {"pieces": to_plain(found.pieces), "report": found.report.to_plain()}
    return {"schema": 4, **told, "sizes": list(said), "learned": learned and learned.to_plain()}


def read_legend(path: Path | None, *, learns: bool) -> LineLegend | None:
    """The legend of a file; None if none was given, or it is to be written anew."""
    from pieces.data import toml_data
    from pieces.errors import FormatError
    from pieces.exchange.decided.legend import legend_of
    from pieces.exchange.source import read_source

    if path is None and learns:
        raise FormatError("--learn and --relearn need the file to write to: give --legend FILE as well")
    if path is None or (learns and not path.exists()):
        return None
    return legend_of(toml_data(read_source(path, "toml"), path.name, FormatError), path.name)


def learn_legend(path: Path, found: Imported, told: Sidecar | None, *, changes: bool) -> Learned:
    """Add what is decided in the small file to a legend: what it says already stays as it is written.

    FormatError, before anything is written, if an entry of it would say something else, unless `changes` allows it.
    """
    from pieces.errors import FormatError
    from pieces.exchange.learning import legend_after
    from pieces.exchange.own.sidecar import Sidecar
    from reports.output import write_text

    before = found.report.legend
    after, rules, without = legend_after(before, found, told or Sidecar(path.name))
    new, others = before.news(rules) if before else (rules, [])
    changed = [f"{old.words()} becomes {rule.words().rpartition(': ')[2]}" for old, rule in others]
    if changed and not changes:
        raise FormatError(
            f"{path.name}: --learn would change what it says: {'; '.join(changed)}: give --relearn in its place (the "
            "file is written again, without its comments), or change it by hand"
        )
    if others or (before is None and rules):
        write_text(path, after.text())
    elif new:
        write_text(path, _added(path, new, after) if not changes else after.text())
    return Learned(tuple(rule.words() for rule in new), tuple(changed), tuple(mark.words() for mark in without))


def _added(path: Path, new: Sequence[LegendRule], after: LineLegend) -> str:
    """A legend's own text with more entries; FormatError where it is written so that none can follow."""
    from pieces.data import toml_data
    from pieces.errors import FormatError
    from pieces.exchange.decided.legend import legend_of

    kept = path.read_text(encoding="utf-8-sig").rstrip()
    text = "\n\n".join([kept, *(rule.text() for rule in new)]) + "\n"
    try:
        if set(legend_of(toml_data(text, path.name, FormatError), path.name).rules) == set(after.rules):
            return text
    except FormatError:
        pass
    raise FormatError(
        f"{path.name}: no entry can be added at its end as it is written: use [[line]] entries, or give --relearn to "
        "have it written again"
    )


def show_read(
    found: Imported,
    units: Units,
    beside: Path | None,
    written: Sequence[Path],
    out: Path | None,
    said: Sequence[str] = (),
) -> None:
    """Show the pieces and the report of reading them, what else there is to say, and how a job lays them."""
    from reports.plan.drafted import pieces_table

    show(pieces_table(found.pieces, units), *found.report.lines())
    if beside:
        show(f"note: facts about the pieces are read from {beside}")
    show(*said)
    show_files(written)
    if out:
        show(f'To lay them, write in a job:  garment = "imported"  and  pieces_file = "{out / "pieces.json"}"')


def known_beside(file: Path, out: Path | None) -> tuple[Path | None, Sidecar | None]:
    """The small file beside the pieces: in the folder to write to, or beside the file itself."""
    from pieces.exchange.own.sidecar import read_sidecar
    from reports.ask.imported import sidecar_path

    for folder in ([out] if out else []) + [file.parent]:
        path = sidecar_path(file, folder)
        if path.is_file():
            return path, read_sidecar(path)
    return None, None
