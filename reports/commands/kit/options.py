"""Options that commands have in common."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from reports.ask.choices import SpreadAsked, TubeAsked

JobPath = Annotated[Path, typer.Argument(metavar="JOB", help="The job file, TOML; 'ellwand new' writes one.")]

OutPath = Annotated[Path | None, typer.Option("--out", metavar="DIR", help="Folder to write files to.")]

AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object, and nothing else, on stdout.")]

Force = Annotated[bool, typer.Option("--force", help="Overwrite files that are already there.")]

ClothNumber = Annotated[
    int | None, typer.Option("--fabric", metavar="N", help="Only the job's N-th cloth; by default every one.")
]

MOST = 2**31 - 1
"""Of a whole number on the command line: what every library takes."""

Seconds = Annotated[
    float | None,
    typer.Option(min=0, max=86_400, help="Search time for each marker, making ready apart: instead of --iterations."),
]

Iterations = Annotated[
    int | None,
    typer.Option(
        min=0, max=MOST, help="Rounds of search for each marker, by default 60; with one worker, a run repeats exactly."
    ),
]

Seed = Annotated[int, typer.Option(min=0, max=MOST, help="Start of all random choices.")]

Workers = Annotated[int, typer.Option(min=1, max=64, help="Searches side by side, each on a core of its own.")]

DEFAULT_ITERATIONS = 300
"""Of the search for each marker."""

ManySeconds = Annotated[
    float | None, typer.Option("--seconds", min=0, max=86_400, help="Search by time for each marker, not by count.")
]

ManyIterations = Annotated[
    int, typer.Option("--iterations", min=0, max=MOST, help="Search for each marker, by count: a run repeats exactly.")
]

ManyWorkers = Annotated[
    int | None, typer.Option("--workers", min=1, max=64, help="Processes side by side; by default one a core.")
]

HowSpread = Annotated[
    SpreadAsked | None, typer.Option("--spread", help="How the cloth lies; by default as the job's first fabric.")
]

Tube = Annotated[
    TubeAsked | None,
    typer.Option("--tube", help="Of a tube: whether widths are as it lies flat, or as it is cut open."),
]

NoCache = Annotated[
    bool, typer.Option("--no-cache", help="Lay everything anew, and keep nothing (else in $XDG_CACHE_HOME/ellwand).")
]

Widths = Annotated[
    str | None, typer.Option(metavar="LIST", help='Such as "45 in, 60 in"; by default six usual widths.')
]

Sizes = Annotated[
    str | None,
    typer.Option(
        metavar="TABLE", help="One that 'ellwand sizes' lists, or a file; by default eight sizes round the job's own."
    ),
]
