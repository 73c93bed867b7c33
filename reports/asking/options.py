"""Options that commands and questions have in common, alone and in groups: each stands once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import typer

from reports.ask.choices import NotchShape, SpreadAsked, TubeAsked
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from pieces.piece.notched import NotchCut

OrderPath = Annotated[
    Path, typer.Argument(metavar="ORDER", help="The order file, TOML; 'ellwand new --run' writes one.")
]

JobPath = Annotated[Path, typer.Argument(metavar="JOB", help="The job file, TOML; 'ellwand new' writes one.")]

OutPath = Annotated[Path | None, typer.Option("--out", metavar="DIR", help="Folder to write files to.")]

AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object and nothing else on stdout.")]

Force = Annotated[bool, typer.Option("--force", help="Overwrite existing files.")]

ClothNumber = Annotated[
    int | None, typer.Option("--fabric", metavar="N", help="Only the job's N-th cloth; by default every one.")
]

LayFiles = Annotated[
    list[Path] | None,
    typer.Option(
        "--lay",
        metavar="FILE",
        help="A lay of a run, such as forty/lay-2.json; repeat for several. The file before is then its order.",
    ),
]


def refuse_cloth(fabric: int | None) -> None:
    """Refuse the number of a cloth beside a lay's file, which has its own."""
    from reports.errors import JobError

    if fabric is not None:
        raise JobError("--fabric is for jobs: a lay's file names its cloth; leave --fabric out")


MOST = 2**31 - 1
"""Of a whole number on the command line: what every library takes."""

Seconds = Annotated[
    float | None,
    typer.Option(
        "--seconds",
        min=0,
        max=86_400,
        help="Search time for each marker, not counting start-up; ignored if --effort is given.",
    ),
]

MOST_EFFORT = 100_000
"""Some days of one core."""

EffortAmount = Annotated[
    float | None,
    typer.Option(
        "--effort",
        metavar="N",
        min=0,
        max=MOST_EFFORT,
        help="How hard to search for each marker: 1, the default, is about 5 s of a core; a proof takes as much.",
    ),
]

Seed = Annotated[int, typer.Option(min=0, max=MOST, help="Random seed.")]

Workers = Annotated[int, typer.Option(min=1, max=64, help="Searches at a time, one per core.")]

ManyWorkers = Annotated[
    int | None, typer.Option("--workers", min=1, max=64, help="Processes at a time; by default one per core.")
]

ClusterAddress = Annotated[
    str | None,
    typer.Option("--cluster", metavar="ADDRESS", help="Lay markers on a Dask cluster, such as tcp://10.0.0.5:8786."),
]

HowSpread = Annotated[
    SpreadAsked | None, typer.Option("--spread", help="How the cloth lies; by default as the job's first fabric.")
]

Tube = Annotated[
    TubeAsked | None,
    typer.Option("--tube", help="For a tube: whether widths are measured lying flat or cut open."),
]

NoCache = Annotated[bool, typer.Option("--no-cache", help="Ignore the cache in $XDG_CACHE_HOME/ellwand.")]

WidthList = Annotated[
    str | None, typer.Option(metavar="LIST", help='Such as "45 in, 60 in"; by default six usual widths.')
]

Sizes = Annotated[
    str | None,
    typer.Option(
        metavar="TABLE",
        help="A table that 'ellwand sizes' lists, or a file; by default eight sizes around the job's own.",
    ),
]


ProveLonger = Annotated[
    bool,
    typer.Option(
        "--prove",
        help="Look longer, a minute or two for one garment: will less do? And how short can the marker be?",
    ),
]


class OneSearch(NamedTuple):
    """How hard to search for the marker of each cloth."""

    seconds: Seconds = None
    amount: EffortAmount = None
    prove: ProveLonger = False
    seed: Seed = 0
    workers: Workers = 1

    @property
    def where(self) -> dict[str, Any]:
        """Where markers are laid: nowhere else."""
        return {}

    def effort(self, usual: Effort) -> Effort:
        """The effort asked for; `usual` is what is taken where nothing is said."""
        return replace(_effort(usual, self.amount, self.seconds, self.seed, self.workers), prove=self.prove)


class ManySearch(NamedTuple):
    """How hard to search for each of many markers, and where they are laid."""

    amount: EffortAmount = None
    seconds: Seconds = None
    seed: Seed = 0
    workers: ManyWorkers = None
    cluster: ClusterAddress = None
    no_cache: NoCache = False

    @property
    def where(self) -> dict[str, Any]:
        """Where markers are laid."""
        return {"workers": self.workers, "cluster": self.cluster, "no_cache": self.no_cache}

    def effort(self, usual: Effort) -> Effort:
        """The effort asked for; `usual` is what is taken where nothing is said."""
        return _effort(usual, self.amount, self.seconds, self.seed, 1)


def _effort(usual: Effort, amount: float | None, seconds: float | None, seed: int, workers: int) -> Effort:
    if amount is None and seconds is None:
        amount, seconds = usual.amount, usual.seconds
    elif amount is not None:
        seconds = None
    return Effort(usual.amount if amount is None else amount, seconds, seed, workers)


LEAST_NOTCH, MOST_NOTCH = 1.0, 20.0
"""No notch is asked for that is less deep, or deeper, mm."""


class Notching(NamedTuple):
    """How notches are cut at the edge of a piece."""

    notches: Annotated[NotchShape, typer.Option("--notches", help="How notches are cut at the edge.")] = "slit"
    notch_depth: Annotated[
        str | None,
        typer.Option(
            "--notch-depth",
            metavar="LENGTH",
            help='How deep, such as "1/4 in": 6 mm by default, never over half the allowance.',
        ),
    ] = None

    def cut(self) -> NotchCut:
        """What was asked for.

        Raises
        ------
        JobError
            If the depth is no length, or one that nobody cuts.
        """
        from pieces.errors import LengthError
        from pieces.piece.notched import NotchCut
        from pieces.units import bound_both, need_both, parse_length
        from reports.errors import JobError

        kind = self.notches
        if self.notch_depth is None:
            return NotchCut(kind)
        try:
            deep = parse_length(self.notch_depth)
        except LengthError as error:
            raise JobError(f"--notch-depth '{self.notch_depth}': {error}") from error
        if not LEAST_NOTCH <= deep <= MOST_NOTCH:
            raise JobError(
                f"--notch-depth '{self.notch_depth}': give {need_both(LEAST_NOTCH)} to {bound_both(MOST_NOTCH)}"
            )
        return NotchCut(kind, deep)


class Output(NamedTuple):
    """Where the answer goes."""

    out: OutPath = None
    as_json: AsJson = False
    force: Force = False
