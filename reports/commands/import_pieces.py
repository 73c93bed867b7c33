"""The command `import`: pattern files from elsewhere, read, mended, told of, and made ready to be laid."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from reports.apart import LIMITS
from reports.ask.choices import FileUnit, UnitsAsked
from reports.asking.options import Output
from reports.commands.kit.terminal import emit, show, show_files

if TYPE_CHECKING:
    from collections.abc import Sequence

    from pieces.exchange.decided.legend import LineLegend
    from pieces.exchange.imported import Imported
    from pieces.exchange.own.sidecar import Sidecar
    from pieces.units import Units

PatternPath = Annotated[
    Path, typer.Argument(metavar="FILE", help="DXF, SVG, CSV or JSON outlines, or measured points in TOML.")
]


ReadingTime = Annotated[
    int, typer.Option(min=1, max=3600, metavar="SECONDS", help="Processor time to read it; memory grows along.")
]


def import_pieces(
    file: PatternPath,
    output: Output,
    units: Annotated[FileUnit | None, typer.Option(help="Unit, if the file gives none.")] = None,
    join: Annotated[str, typer.Option(metavar="LENGTH", help="Join line ends no further apart than this.")] = "0.5 mm",
    size: Annotated[str | None, typer.Option(metavar="SIZE", help="Which size to read.")] = None,
    grain: Annotated[
        float | None,
        typer.Option(metavar="DEGREES", help="Grain angle for pieces without a grainline, from the file's x axis."),
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
    learn: Annotated[
        bool, typer.Option("--learn", help="Add what the small file decides of single lines to the legend.")
    ] = False,
    grade: Annotated[
        bool, typer.Option("--grade", help="Write grade rules that lead to the other sizes in the file.")
    ] = False,
    seconds: ReadingTime = LIMITS.seconds,
    shown_in: Annotated[UnitsAsked, typer.Option("--show-in", help="Units of the sizes shown.")] = "cm",
) -> None:
    """Read pattern pieces from a file. Report what was found, mended and left out, and write the pieces for a job."""
    from pieces.exchange.imported import ReadingChoices
    from pieces.exchange.own.plain import to_plain
    from pieces.exchange.own.sidecar import write_sidecar
    from pieces.units import Units, parse_length
    from reports.ask.imported import GRADING, FileAsked, imported_files, read_file, write_imported
    from reports.output import refuse_overwriting

    out = output.out
    if out:
        refuse_overwriting([*imported_files(file, out), *([out / GRADING] if grade else [])], force=output.force)
    beside, known = known_beside(file, out)
    marks = read_legend(legend, learns=learn)
    asked = ReadingChoices(units, parse_length(join), size, grain, strict, per_inch, legend=marks)
    found, rules, said = read_file(file, FileAsked(asked, known, grade, out is not None), seconds)
    text = write_sidecar(found, file.name, asked.angle) if known is None else None
    written = write_imported(found, file, out, Units(shown_in), text, rules) if out else []
    said += learn_legend(legend, found, known) if legend and learn else []
    if output.as_json:
        emit(json.dumps({"schema": 3, "pieces": to_plain(found.pieces), "report": found.report.to_plain()}))
        return
    show_read(found, Units(shown_in), beside, written, out, said)


def read_legend(path: Path | None, *, learns: bool) -> LineLegend | None:
    """The legend of a file; None if none was given, or it is to be written anew."""
    from pieces.data import toml_data
    from pieces.errors import FormatError
    from pieces.exchange.decided.legend import legend_of
    from pieces.exchange.source import read_source

    if path is None and learns:
        raise FormatError("--learn needs the file to write to: give --legend FILE as well")
    if path is None or (learns and not path.exists()):
        return None
    return legend_of(toml_data(read_source(path, "toml"), path.name, FormatError), path.name)


def learn_legend(path: Path, found: Imported, told: Sidecar | None) -> list[str]:
    """Write a legend with what is decided in the small file; what was learned, in words."""
    from pieces.exchange.learning import legend_after
    from pieces.exchange.own.sidecar import Sidecar
    from reports.output import write_text

    after, rules, without = legend_after(found.report.legend, found, told or Sidecar(path.name))
    if rules:
        write_text(path, after.text())
    said = [f"learned: {rule.words()}" for rule in rules]
    said += [f"not learned: {mark.words()} stands for several things in this file" for mark in without]
    return said or ["learned: nothing, for no [[line]] of the small file decides what lines are"]


def show_read(
    found: Imported,
    units: Units,
    beside: Path | None,
    written: Sequence[Path],
    out: Path | None,
    said: Sequence[str] = (),
) -> None:
    """Show the pieces and the report of reading them, what else there is to say, and how a job lays them."""
    from reports.plan.words import pieces_table

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
