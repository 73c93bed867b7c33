"""The command `check`: whether a marker gives what its job asks for."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from reports.asking.options import AsJson, ClothNumber, refuse_cloth
from reports.commands.kit.terminal import emit, show
from reports.one_line import one_line

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence

    from nesting.verify import Holds
    from reports.ask.job import Job
    from reports.ask.marker_file import MarkerSaid
    from reports.ask.offer import FabricOffer

MarkerPath = Annotated[
    Path, typer.Argument(metavar="MARKER", help="A marker file (JSON), as 'lay' and 'buy' write it.")
]
OfJob = Annotated[
    Path | None, typer.Option("--job", metavar="JOB", help="The job with the pieces, their number and the cloth.")
]
OfOrder = Annotated[
    Path | None,
    typer.Option("--order", metavar="ORDER", help="Of a run's lay, such as lay-1.json: the order it is cut for."),
]
OfPieces = Annotated[
    Path | None,
    typer.Option("--pieces", metavar="FILE", help="Instead of a job: pieces.json, as 'draft' and 'import' write it."),
]

OF_THE_FILE = ("fabric", "spread", "fold_depth", "plies")
"""What only the marker's file tells where no job does: there is nothing to hold it against."""

OF_THE_LAY = ("lay.order", "lay.ticket")
"""What a lay's file says that an order says nothing of."""

ToldWidth = Annotated[
    str | None, typer.Option(metavar="LENGTH", help="With --pieces: width of the cloth; for a tube, opened.")
]
ToldSelvedge = Annotated[str, typer.Option(metavar="LENGTH", help="With --pieces: width of each selvedge.")]
ToldGap = Annotated[str, typer.Option(metavar="LENGTH", help="With --pieces: space between outlines.")]
ToldNap = Annotated[
    Literal["no", "yes", "by garment"], typer.Option(help="With --pieces: whether the cloth has a nap.")
]
ToldRepeat = Annotated[str, typer.Option(metavar="LENGTH", help="With --pieces: repeat of the pattern.")]
ToldShrinkage = Annotated[
    tuple[float, float], typer.Option(metavar="ALONG ACROSS", help="With --pieces: percent of shrinkage after cutting.")
]
ToldTilt = Annotated[
    float, typer.Option(min=0, max=15, help="With --pieces: degrees that pieces may lie off the grain.")
]
ToldMaterial = Annotated[
    Literal["shell", "lining", "interfacing"], typer.Option(help="With --pieces: names of the pieces to lay.")
]
ToldGarments = Annotated[int, typer.Option(min=1, max=1000, help="With --pieces: number of garments.")]
ToldTwins = Annotated[bool, typer.Option("--waste-twins", help="With --pieces: allow a wasted twin.")]

FAILED = 1
"""Exit code where something does not hold."""


def check(
    marker: MarkerPath,
    job: OfJob = None,
    order: OfOrder = None,
    fabric: ClothNumber = None,
    pieces: OfPieces = None,
    width: ToldWidth = None,
    selvedge: ToldSelvedge = "0 mm",
    gap: ToldGap = "0 mm",
    nap: ToldNap = "no",
    repeat_along: ToldRepeat = "0 mm",
    repeat_across: ToldRepeat = "0 mm",
    shrinkage: ToldShrinkage = (0.0, 0.0),
    tilt: ToldTilt = 0.0,
    material: ToldMaterial = "shell",
    garments: ToldGarments = 1,
    waste_twins: ToldTwins = False,
    as_json: AsJson = False,
) -> None:
    """Check a marker file again from pieces and cloth: exit code 1 at the first fault.

    Cloth, bands, turns and numbers in the file are not trusted: each is compared with the job and the layout. What
    cannot be compared is listed as not checked.
    """
    from reports.ask.job import read_job
    from reports.ask.marker_file import read_marker

    _require_one(job, order, pieces)
    said = read_marker(marker)
    if order is not None:
        _hold_lay(said, order, fabric, marker.name, as_json=as_json)
        return
    _refuse_lay(said, marker.name)
    if job is not None:
        found = read_job(job)
        offer = _cloth(said, found, fabric)
    else:
        assert pieces is not None
        cloth: dict[str, object] = {
            "width": width,
            "selvedge": selvedge,
            "gap": gap,
            "nap": {"no": False, "yes": True}.get(nap, nap),
            "repeat_along": repeat_along,
            "repeat_across": repeat_across,
            "shrinkage": shrinkage[0],
            "shrinkage_across": shrinkage[1],
            "tilt": tilt,
            "material": material,
            "waste_twins": waste_twins,
            "plies": max(2, said.plies),
        }
        found = _job_of_pieces(pieces, cloth, garments)
        offer = found.fabric[0]
    _hold(said, found, offer, marker.name, any_way=job is None, as_json=as_json)


def _require_one(*told: Path | None) -> None:
    """Refuse nothing to check against, and more than one thing."""
    from reports.errors import JobError

    if sum(one is not None for one in told) != 1:
        raise JobError(
            "give what the marker is checked against: --job JOB, --order ORDER for a lay of a run, or --pieces FILE"
            " with --width and its other options"
        )


def _refuse_lay(said: MarkerSaid, name: str) -> None:
    from reports.errors import JobError

    if said.lay is not None:
        raise JobError(f"{name} is a lay of a run: check it against its order, --order {said.lay.order}")


def _hold_lay(said: MarkerSaid, path: Path, fabric: int | None, name: str, *, as_json: bool) -> None:
    """Hold a lay's file against an order, and say what came of it."""
    refuse_cloth(fabric)
    from reports.ask.order.order import read_order
    from reports.run.garments import draft_all
    from reports.run.lay_file import lay_holds
    from reports.run.lots import lots_of

    order = read_order(path)
    lots = list(lots_of(order, draft_all(order)))
    _tell(lambda: lay_holds(order, lots, said), [*OF_THE_LAY, *said.all_unknown], name, as_json)


def _hold(said: MarkerSaid, job: Job, offer: FabricOffer, name: str, *, any_way: bool, as_json: bool) -> None:
    """Hold a marker against a cloth of a job, and say what came of it; `any_way`: nobody said how the cloth lies."""
    from nesting.verify import holding
    from reports.ask.draft import draft_job
    from reports.ask.wanted import asked_as_said
    from reports.plan.problems import cut_from

    wanted = cut_from(offer, job, draft_job(job))
    unchecked = list(OF_THE_FILE) if any_way else []

    def held() -> Iterator[Holds]:
        asked = asked_as_said(said, offer, wanted, job.garments, any_way=any_way)
        return holding(said.layout(unchecked), asked)

    _tell(held, [*unchecked, *said.all_unknown], name, as_json)


def _tell(held: Callable[[], Iterator[Holds]], unchecked: Sequence[str], name: str, as_json: bool) -> None:
    """Say what holds, one thing a line, what nothing was held against, and the first thing that does not: code 1."""
    from nesting.errors import CheckError

    seen: list[Holds] = []
    wrong = ""
    try:
        seen += held()
    except CheckError as error:
        wrong = str(error)
    if as_json:
        holds = [{"what": one.what, "seen": one.seen} for one in seen]
        emit(json.dumps({"schema": 2, "holds": holds, "not_checked": unchecked, "wrong": wrong or None}))
    else:
        show(*(f"{one.what:<9}{one.seen}" for one in seen))
        if unchecked:
            show(one_line(f"not checked: {', '.join(unchecked)}"))
        show(f"WRONG    {one_line(wrong)}" if wrong else f"{name} gives what was asked for.")
    if wrong:
        raise typer.Exit(FAILED)


def _cloth(said: MarkerSaid, job: Job, number: int | None) -> FabricOffer:
    """The cloth of a job that a marker is of: the one named by its number, else by the marker, else the only one."""
    from reports.errors import JobError

    if number is not None:
        return job.with_cloth(number).fabric[0]
    found = [offer for offer in job.fabric if offer.name == said.fabric] or job.fabric
    if len(found) != 1:
        there = ", ".join(f"'{offer.name}'" for offer in job.fabric) or "none"
        raise JobError(
            f"the marker is of '{said.fabric}', and {job.name} offers {there}: choose the cloth with --fabric N"
        )
    return found[0]


def _job_of_pieces(path: Path, cloth: Mapping[str, object], garments: int) -> Job:
    """A job of a file of pieces and of one cloth, told of in options."""
    from pydantic import ValidationError

    from reports.ask.faults import first_fault
    from reports.ask.imported import IMPORTED
    from reports.ask.job import Job
    from reports.ask.offer import FabricOffer
    from reports.errors import JobError

    if cloth["width"] is None:
        raise JobError("--pieces does not describe the cloth: add --width, and --selvedge, --nap or --gap if needed")
    laid = {**cloth, "washed": "after", "spread": "best"}
    asked = {"garment": IMPORTED, "pieces_file": str(path.absolute()), "garments": garments, "fabric": [laid]}
    try:
        return Job.model_validate(asked | {"name": path.name})
    except ValidationError as error:
        raise JobError(f"the cloth: {first_fault(error, {'fabric': FabricOffer})}") from error
