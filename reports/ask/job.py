"""The job: what was asked, read from a TOML file, with errors a person can act on."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any, get_args

from pydantic import Field, ValidationError, field_validator, model_validator

from pieces.body.body import Body, Unmeasured, measurement_names
from pieces.body.corrections import CORRECTIONS, corrections_of
from pieces.body.ranges import Wearer, usual_range
from pieces.body.rules import lacking
from pieces.errors import MeasurementError, PieceError
from pieces.require import require, require_whole
from pieces.units import format_size, speak
from reports.ask.faults import first_fault
from reports.ask.imported import IMPORTED
from reports.ask.offer import FabricOffer, FileTable, RibOffer
from reports.ask.pricing import Operation, Pricing
from reports.ask.recipe import Recipe, length_of, refuse_unknown
from reports.ask.several import SEVERAL, TITLE, GarmentEntry, with_entries
from reports.ask.shape import MOST_CUT, SHAPES, ShapeTable
from reports.ask.trim import TrimOffer
from reports.ask.written import loads, read_as
from reports.errors import JobError, ReportError

if TYPE_CHECKING:
    from dataclasses import Field as DataclassField

    from pieces.garments import Garment

LARGEST_FILE = 1_000_000
"""No job file is larger, bytes."""


class Job(Recipe):
    """A whole job: a garment for a body, or several together, and the cloth and rib they could be made of."""

    body: dict[str, Any] = Field(default_factory=dict)
    garments: int = Field(1, ge=1, le=1000)
    shape: tuple[ShapeTable, ...] = Field((), strict=False)
    fabric: tuple[FabricOffer, ...] = Field((), strict=False)
    rib: tuple[RibOffer, ...] = Field((), strict=False)
    trim: tuple[TrimOffer, ...] = Field((), strict=False)
    operation: tuple[Operation, ...] = Field((), strict=False)
    pricing: Pricing | None = None
    together: tuple[GarmentEntry, ...] = Field((), exclude=True)
    alone: bool | None = None
    name: str = Field("job", exclude=True)

    @model_validator(mode="before")
    @classmethod
    def _of_shapes_alone(cls, data: Any) -> Any:
        """Let a job with shapes do without a garment."""
        return {"garment": SHAPES} | data if isinstance(data, dict) and data.get("shape") else data

    @field_validator("trim")
    @classmethod
    def _priced_once(cls, offers: tuple[TrimOffer, ...]) -> tuple[TrimOffer, ...]:
        twice = [name for name, times in Counter(one.name for one in offers).items() if times > 1]
        if twice:
            raise ValueError(f"'{twice[0]}' has two prices: keep one [[trim]] of each name")
        return offers

    @model_validator(mode="after")
    def _is_paid(self) -> Job:
        for operation in self.operation:
            self.priced.work(operation)  # or it says that nobody pays for it, before any long work
        return self

    @model_validator(mode="after")
    def _has_its_garments(self) -> Job:
        if (self.garment == SEVERAL) != bool(self.together):
            raise ValueError(f"unknown garment {self.garment!r}: choose {', '.join(super().kinds())}")
        if self.together and any(offer.nap == "by garment" for offer in self.fabric):
            raise ValueError(
                'nap = "by garment" is for one garment that is cut several times: with [[garment]] write nap = true'
            )
        return self

    @model_validator(mode="after")
    def _has_its_pieces(self) -> Job:
        if self.garment == IMPORTED and self.pieces_file is None:
            raise JobError(f"{IMPORTED} pieces need a file", hint='add a line such as pieces_file = "coat/pieces.json"')
        if self.garment == SHAPES and not self.shape:
            raise JobError(
                f'garment = "{SHAPES}" needs shapes', hint="add a [[shape]] entry; see 'ellwand help shapes'"
            )
        cut = sum(shape.cut for shape in self.shape) * self.garments
        if cut > MOST_CUT:
            raise ValueError(f"[[shape]]: {cut} pieces are too many to lay at once: cut {MOST_CUT} or fewer")
        if self.garment != IMPORTED and self.pieces_file is not None:
            raise ValueError(f'pieces_file goes with garment = "{IMPORTED}": {self.garment} is drafted')
        return self

    @classmethod
    def kinds(cls) -> tuple[str, ...]:
        """What may be asked for; several together as well."""
        return *super().kinds(), SEVERAL, SHAPES

    @property
    def title(self) -> str:
        """What is made."""
        return f"{TITLE[0].upper()}{TITLE[1:]}" if self.together else super().title

    def model(self) -> Garment:
        """The garment asked for; JobError if there are several."""
        self._require_one()
        return super().model()

    def _require_one(self) -> None:
        if self.together:
            raise JobError(f"{self.name} has several garments, and this takes one: write a job for each")

    def options(self) -> tuple[DataclassField[Any], ...]:
        """What the style of the garment may say; of several, that of any."""
        singles = (self.single(entry, self.name) for entry in self.together)
        return tuple(option for one in singles for option in one.options()) if self.together else super().options()

    def single(self, entry: GarmentEntry, label: str) -> Job:
        """The job of one garment of several, by itself and without cloth; it is called by its label."""
        kept = {"units": self.units, "name": label, "folder": self.folder}
        told = {"garment": entry.garment, "pieces_file": entry.pieces_file, "body": entry.body, "style": entry.style}
        job = Job.model_validate(kept | told)
        style = self.style_for_cloth(entry.style, {option.name: option for option in job.options()})
        return job.model_copy(update={"style": style})

    def shapes_alone(self) -> Job:
        """The job of its shapes by themselves, without cloth, as one more of several garments."""
        kept = {"units": self.units, "name": SHAPES, "folder": self.folder}
        return Job.model_validate(kept | {"garment": SHAPES, "shape": self.shape})

    def require_sound(self) -> None:
        """Make sure that body and style make sense, of each garment by itself.

        Raises
        ------
        JobError, PieceError
            At the first that does not: it is named.
        """
        if not self.together:
            self.measured()
            self.styled()
        for number, entry in enumerate(self.together, 1):
            try:
                single = self.single(entry, self.name)
                if entry.clients is None and entry.sizes is None:
                    single.measured()
                single.styled()
            except ValidationError as error:
                raise JobError(f"[[garment]] number {number} {first_fault(error, {})}") from error
            except (PieceError, ReportError) as error:
                raise JobError(f"[[garment]] number {number} {error}") from error

    @property
    def priced(self) -> Pricing:
        """How prices follow: as the job says, or as without a word on it."""
        return self.pricing or Pricing()

    @property
    def own_body(self) -> dict[str, Any]:
        """The measurements as they are written."""
        return self.body

    @classmethod
    def for_body(cls, made: Recipe, body: dict[str, Any], style: dict[str, Any]) -> Job:
        """The job of what is made, for a body and in a style; of an order that is one garment, without its cloth."""
        if isinstance(made, Job):
            return made.model_copy(update={"body": body, "style": style})
        kept = {key: getattr(made, key) for key in ("garment", "pieces_file", "units", "name", "folder")}
        style = made.style_for_cloth(style, {option.name: option for option in made.options()})
        return cls.model_validate(kept | {"body": body, "style": style})

    def with_cloth(self, number: int) -> Job:
        """The job with one of its cloths, counted from 1; JobError if it has no such cloth."""
        require_whole(number, "the number of a cloth")
        if self.fabric and not 1 <= number <= len(self.fabric):
            cloths = "1 cloth" if len(self.fabric) == 1 else f"{len(self.fabric)} cloths"
            raise JobError(
                f"--fabric {number}: {self.name} offers {cloths}: choose a number from 1 to {len(self.fabric)}"
            )
        return self.model_copy(update={"fabric": self.fabric[number - 1 : number]})

    def measured(self) -> Body:
        """The body, checked.

        Raises
        ------
        JobError, MeasurementError
            If a measurement is missing, unknown, unreadable or absurd; or there are several garments.
        """
        self._require_one()
        if self.garment in (IMPORTED, SHAPES):
            if self.body:
                fixed = "imported pieces" if self.garment == IMPORTED else "shapes"
                raise JobError(f"[body]: {fixed} have a fixed size: take the measurements out")
            return Unmeasured()
        refuse_unknown(self.body, [*measurement_names(), *CORRECTIONS, "wearer"], "body")
        missing = lacking(self.model().measurements, self.body)
        wearer = self.body.get("wearer", "women")
        if wearer not in get_args(Wearer):
            raise JobError(f"[body] wearer: {wearer!r} is not one of {', '.join(get_args(Wearer))}")
        if missing:
            limits = usual_range(wearer, missing[0])
            line = f'{missing[0]} = "{format_size((limits.low + limits.high) / 2, self.written_in)}"'
            raise MeasurementError(f"[body] lacks {' and '.join(missing)}", hint=f"add a line such as {line}")
        lengths = {name: length_of("body", name, value) for name, value in self.body.items() if name != "wearer"}
        tried_on = corrections_of({name: lengths.pop(name) for name in CORRECTIONS if name in lengths})
        return Body(**lengths, tried_on=tried_on, wearer=wearer)


OURS = ("name", "folder", "ledger", "together")
"""Fields of a job that no file and nobody else may give."""

TABLES: dict[str, type[FileTable]] = {
    "shape": ShapeTable,
    "fabric": FabricOffer,
    "rib": RibOffer,
    "trim": TrimOffer,
    "operation": Operation,
    "pricing": Pricing,
}
"""What the entries of a job file are."""


def read_job(path: Path | str) -> Job:
    """Read and check a job file; from here on errors and notes speak its units.

    Raises
    ------
    JobError
        If the file cannot be read, is no TOML, or holds unknown keys or values that make no sense: one line
        that names the file, the entry, and what to do.
    """
    require(path, Path | str, "the path of a job", "a Path or text")
    path = Path(path)
    job = parse_job(read_text(path, "job"), path.name, path.parent)
    speak(job.written_in)
    return job


def read_text(path: Path, what: str, most: int = LARGEST_FILE) -> str:
    """The text of a file, in UTF-8; JobError if it cannot be read, or has more bytes than such files have."""
    try:
        with path.open("rb") as file:
            data = file.read(most + 1)  # no more, even of a device that never ends
        if len(data) > most:
            raise JobError(f"{path} is larger than {most // 1_000_000} MB, too large for a {what} file")
        return data.decode("utf-8-sig")
    except OSError as error:
        raise JobError(f"cannot read {path}: {(error.strerror or 'no such file').lower()}") from error
    except UnicodeDecodeError as error:
        raise JobError(f"cannot read {path}: it is not text in UTF-8") from error
    except ValueError as error:  # such as a name with a zero byte
        raise JobError(f"cannot read {str(path)!r}: {error}") from error


def parse_job(text: str, name: str = "job", folder: Path = Path()) -> Job:
    """Check a job given as TOML text; `name` is what errors call it, files it names are sought from `folder`."""
    require(text, str, "the text of a job", "TOML text; a file is read by read_job")
    require(name, str, "the name of a job", "text")
    require(folder, Path, "the folder of a job", "a Path")
    data = loads(text, name, "a garment, [body], [style] and [[fabric]]; see 'ellwand new'")
    with read_as(data, name, TABLES):
        refuse_unknown(data, [key for key in Job.model_fields if key not in OURS])
        job = Job.model_validate(with_entries(data) | {"name": name, "folder": folder})
        job.require_sound()
    return job
