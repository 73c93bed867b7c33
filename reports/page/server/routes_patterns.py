"""Pattern files that came in: looked at line by line, decided on, and read again."""

from dataclasses import replace
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Query
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from pieces.exchange.decided.legend import legend_of
from pieces.exchange.imported import Unit
from pieces.units import Units
from reports.errors import MissingError, StateError
from reports.page.server.replies import MISTAKES, Json, Plain
from reports.page.server.routes_projects import Saved
from reports.page.store.legends import keep_learned, legends_of
from reports.page.store.patterns import CHANGED, KeptPattern, Patterns
from reports.page.store.shelf import Shelf
from reports.page.work_folder import UPLOADS

router = APIRouter(prefix="/api", tags=["patterns"], responses=MISTAKES)

Watch = Annotated[str, Query(max_length=40, description="Under what name steps of tracing photos are asked for.")]

PieceFile = Annotated[str, Query(pattern=r"^[0-9a-f]{32}\.json$", description="Pieces that were made of it.")]


class DecidedPattern(BaseModel):
    """What is decided of a pattern file: `told` as the small file beside pieces has it, in place of what was."""

    model_config = ConfigDict(extra="forbid")

    told: Plain
    units: Unit | None = None
    size: str | None = Field(default=None, max_length=60)
    uses_legend: bool = True
    learns: bool = False
    shown_in: Literal["cm", "in"] = "cm"
    changed: str | None = Field(default=None, max_length=40, description="What it was read at, where that counts.")


@router.get("/patterns")
def find_pattern(store: Saved, pieces_file: PieceFile) -> Response:
    """The id of the file that pieces were last made of; 404 if it is not kept, or made other pieces since."""
    for pattern, made in Patterns(store.folder).pieces().items():
        if made == pieces_file:
            return Json({"id": pattern})
    raise MissingError("the file of these pieces is not kept, or was read otherwise since: upload it again")


@router.get("/patterns/{pattern}")
def show_pattern(pattern: str, store: Saved, watch: Watch = "") -> Response:
    """Read a kept file again, with all that was decided of it. 429 while others are read."""
    from reports.page.answers.photo_set import told_as
    from reports.page.answers.upload import read_again

    kept = Patterns(store.folder).find(pattern)
    with told_as(watch) as tell:
        return Json(read_again(kept, store.folder / UPLOADS, legends=legends_of(store), over=kept.changed, tell=tell))


@router.put("/patterns/{pattern}")
def decide_on_pattern(pattern: str, decided: DecidedPattern, store: Saved, watch: Watch = "") -> Response:
    """Read a kept file again with other decisions: its new pieces, and what has changed.

    Photos that were traced since the page began are not traced again.

    409 where it was decided on since it was read, 429 while others are read.
    """
    from reports.page.answers.photo_set import told_as
    from reports.page.answers.remade import remade
    from reports.page.answers.upload import read_again

    before = Patterns(store.folder).find(pattern)
    if decided.changed not in (None, before.changed):
        raise StateError(CHANGED)
    asked = replace(before, units=decided.units, size=decided.size, uses_legend=decided.uses_legend)
    with told_as(watch) as tell:
        said = read_again(
            asked.deciding(decided.told),
            store.folder / UPLOADS,
            legends=legends_of(store),
            learns=decided.learns,
            over=decided.changed,
            tell=tell,
        )
    if "pieces_file" in said:
        old, new = (_pieces(store, name) for name in (before.pieces_file, said["pieces_file"]))
        said["changes"] = remade(old, new, Units(decided.shown_in)) if old else []
    if (learned := said.pop("learned", None)) is not None:
        kept = keep_learned(store, learned["legend"], said["legend"]) if learned["rules"] else None
        said["learned"] = {"rules": learned["rules"], "without": learned["without"], "legend": kept and kept["name"]}
    return Json(said)


@router.post("/patterns/{pattern}/apart/{number}")
def take_apart(pattern: str, number: int, store: Saved) -> Response:
    """Read a kept file by what was decided of it elsewhere; what is decided here goes beside it."""
    from reports.page.answers.upload import read_again

    kept = Patterns(store.folder).find(pattern)
    taken = kept.taking(number)
    return Json(read_again(taken, store.folder / UPLOADS, legends=legends_of(store), over=kept.changed))


@router.delete("/patterns/{pattern}/apart/{number}", status_code=204, response_class=Response)
def forget_apart(pattern: str, number: int, store: Saved) -> Response:
    """Forget what was decided of a file elsewhere."""
    kept = Patterns(store.folder).find(pattern)
    rest = tuple(one for at, one in enumerate(kept.apart) if at != number)
    Patterns(store.folder).keep(replace(kept, apart=rest), over=kept.changed)
    return Response(status_code=204)


def _pieces(store: Saved, name: str) -> Any:
    """The pieces of a file; none if it is not there."""
    from reports.ask.imported import read_pieces

    path = store.folder / UPLOADS / name
    return tuple(read_pieces(path)) if name and path.is_file() else ()


@router.get("/patterns/{pattern}/decisions", response_class=Response)
def send_decisions(pattern: str, store: Saved) -> Response:
    """What is decided of a file, as the small file beside it that 'ellwand import' reads."""
    kept = Patterns(store.folder).find(pattern)
    head = f"# What is decided of {kept.name}: keep this beside it, and import it again.\n\n"
    return _text(head + kept.told, _stem(kept) + ".pieces.toml")


@router.get("/patterns/{pattern}/sizes")
def show_sizes(pattern: str, store: Saved) -> Response:
    """All sizes of a file side by side, and how far grade rules miss the drawn ones. 429 while others are read."""
    compared = _compared(pattern, store)
    return Json({**compared, "text": None, "is_true": bool(compared["text"])})


@router.get("/patterns/{pattern}/grading", response_class=Response)
def send_grading(pattern: str, store: Saved) -> Response:
    """The grade rules that lead from the size that is read to the others, as a file for an order."""
    text = _compared(pattern, store)["text"]
    if not text:
        raise MissingError("there are no grade rules: look at the sizes to see why")
    return _text(text, "grading.toml")


@router.post("/patterns/{pattern}/rules")
def make_rules(pattern: str, store: Saved) -> Response:
    """Make the grade rules of a file, and keep them for a run of its sizes. 429 while others are read."""
    from reports.page.answers.ruled import keep_rules

    kept = Patterns(store.folder).find(pattern)
    return Json(keep_rules(kept, store.folder / UPLOADS, legends_of(store)))


def _compared(pattern: str, store: Saved) -> dict[str, Any]:
    from reports.page.answers.upload import compare_sizes

    return compare_sizes(Patterns(store.folder).find(pattern), legends=legends_of(store))


@router.get("/legends/{thing}", response_class=Response)
def send_legend(thing: str, store: Saved) -> Response:
    """A legend as a file for 'ellwand import --legend'."""
    found = Shelf(store).find(thing)
    return _text(legend_of(found["data"], found["name"]).text(), "legend.toml")


def _stem(pattern: KeptPattern) -> str:
    plain = "".join(sign if (sign.isascii() and sign.isalnum()) or sign in "-_" else "-" for sign in pattern.name)
    return plain.rpartition("-")[0] or "patterns"


def _text(text: str, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{name}"', "Cache-Control": "no-store"}
    return Response(text, media_type="application/toml", headers=headers)
