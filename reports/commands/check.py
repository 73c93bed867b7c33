"""The command `check`: whether a marker gives what its job asks for."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from reports.shared import AsJson, ClothNumber, emit, show

if TYPE_CHECKING:
    from collections.abc import Mapping

    from nesting.verify import Asked
    from pieces import Piece
    from reports.job import Job
    from reports.marker_file import MarkerSaid
    from reports.offer import FabricOffer

MarkerPath = Annotated[
    Path, typer.Argument(metavar="MARKER", help="A marker's file, JSON: what 'lay' and 'buy' write.")
]
OfJob = Annotated[Path | None, typer.Option("--job", metavar="JOB", help="The job that says pieces, number and cloth.")]
OfPieces = Annotated[
    Path | None,
    typer.Option("--pieces", metavar="FILE", help="In place of a job: pieces.json, as 'draft' and 'import' write it."),
]

FAILED = 1
"""Exit code where something does not hold."""


def check(
    marker: MarkerPath,
    job: OfJob = None,
    fabric: ClothNumber = None,
    pieces: OfPieces = None,
    width: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="With --pieces: the cloth's width; a tube's, opened.")
    ] = None,
    selvedge: Annotated[str, typer.Option(metavar="LENGTH", help="With --pieces: each selvedge.")] = "0 mm",
    gap: Annotated[str, typer.Option(metavar="LENGTH", help="With --pieces: distance between outlines.")] = "0 mm",
    nap: Annotated[
        Literal["no", "yes", "by garment"], typer.Option(help="With --pieces: whether the cloth has a nap.")
    ] = "no",
    repeat_along: Annotated[str, typer.Option(metavar="LENGTH", help="With --pieces: the pattern's.")] = "0 mm",
    repeat_across: Annotated[str, typer.Option(metavar="LENGTH", help="With --pieces: the pattern's.")] = "0 mm",
    shrinkage: Annotated[
        tuple[float, float], typer.Option(metavar="ALONG ACROSS", help="With --pieces: percent, after cutting.")
    ] = (0.0, 0.0),
    tilt: Annotated[float, typer.Option(min=0, max=15, help="With --pieces: degrees off the grain allowed.")] = 0.0,
    material: Annotated[
        Literal["shell", "lining", "interfacing"], typer.Option(help="With --pieces: which of them.")
    ] = "shell",
    garments: Annotated[int, typer.Option(min=1, max=1000, help="With --pieces: how many.")] = 1,
    waste_twins: Annotated[bool, typer.Option("--waste-twins", help="With --pieces: a twin may be wasted.")] = False,
    as_json: AsJson = False,
) -> None:
    """Say what holds of a marker, worked out anew from pieces and cloth: exit code 1 at the first thing that does not.

    Nothing that the file says of bands, turns or numbers is believed.
    """
    from reports.cloth import cut_from
    from reports.errors import JobError
    from reports.job import read_job
    from reports.marker_file import read_marker
    from reports.plan import draft_job

    if (job is None) == (pieces is None):
        raise JobError("say what the marker has to give: --job JOB, or --pieces FILE with --width and what else holds")
    said = read_marker(marker)
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
            "washed": "after",
            "tilt": tilt,
            "material": material,
            "waste_twins": waste_twins,
            "spread": "best",
            "plies": max(2, said.plies),
        }
        found = _job_of_pieces(pieces, cloth, garments)
        offer = found.fabric[0]
    asked = _asked(said, offer, cut_from(offer, found, draft_job(found)), found.garments)
    _tell(said, asked, marker.name, as_json)


def _tell(said: MarkerSaid, asked: Asked, name: str, as_json: bool) -> None:
    """Say what holds, one thing a line, and the first thing that does not: exit code 1 then."""
    from nesting.errors import CheckError
    from nesting.verify import holding

    held: list[tuple[str, str]] = []
    wrong = ""
    try:
        held += holding(said.layout(), asked)
    except CheckError as error:
        wrong = str(error)
    if as_json:
        emit(json.dumps({"holds": [{"what": what, "seen": seen} for what, seen in held], "wrong": wrong or None}))
    else:
        show(*(f"{what:<9}{seen}" for what, seen in held))
        show(f"WRONG    {wrong}" if wrong else f"{name} gives what was asked for.")
    if wrong:
        raise typer.Exit(FAILED)


def _cloth(said: MarkerSaid, job: Job, number: int | None) -> FabricOffer:
    """The cloth of a job that a marker is of: the one named by its number, else by the marker."""
    from reports.errors import JobError
    from reports.shared import only_cloth

    if number is not None:
        return only_cloth(job, number).fabric[0]
    found = [offer for offer in job.fabric if offer.name == said.fabric]
    if len(found) != 1:
        there = ", ".join(f"'{offer.name}'" for offer in job.fabric) or "none"
        raise JobError(
            f"the marker is of '{said.fabric}', and {job.name} offers {there}: say which cloth it is with --fabric N"
        )
    return found[0]


def _job_of_pieces(path: Path, cloth: Mapping[str, object], garments: int) -> Job:
    """A job of a file of pieces and of one cloth, told of in options."""
    from pydantic import ValidationError

    from reports.errors import JobError
    from reports.faults import first_fault
    from reports.imported import IMPORTED
    from reports.job import Job
    from reports.offer import FabricOffer

    if cloth["width"] is None:
        raise JobError("--pieces says nothing of the cloth: add --width, and --selvedge, --nap or --gap if it has any")
    asked = {"garment": IMPORTED, "pieces_file": str(path.absolute()), "garments": garments, "fabric": [cloth]}
    try:
        return Job.model_validate(asked | {"name": path.name})
    except ValidationError as error:
        raise JobError(f"the cloth: {first_fault(error, {'fabric': FabricOffer})}") from error


def _asked(said: MarkerSaid, offer: FabricOffer, pieces: tuple[Piece, ...], garments: int) -> Asked:
    """What is asked of a marker that lies as it says, if the cloth may lie so."""
    from typing import cast

    from nesting.spread import STACKS, Spread
    from reports.errors import JobError
    from reports.wanted import asked_of

    if offer.spread not in ("best", said.spread):
        raise JobError(f"the marker lies {said.spread}, and '{offer.name}' is to lie {offer.spread}")
    if said.spread in STACKS and said.plies != offer.plies:
        raise JobError(f"the marker has {said.plies} plies, and '{offer.name}' is to lie in {offer.plies}")
    if offer.fold_depth is not None and said.fold_depth not in (None, offer.fold_depth):
        raise JobError(
            f"the marker is folded over by {said.fold_depth} mm, and '{offer.name}' by {offer.fold_depth} mm"
        )
    depth = offer.fold_depth if said.fold_depth is None else said.fold_depth
    return asked_of(offer, cast("Spread", said.spread), pieces, garments, depth)
