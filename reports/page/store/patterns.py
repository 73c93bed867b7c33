"""A pattern file as it came, kept with what was decided of it: so that the same file finds its decisions again."""

from __future__ import annotations

import base64
import hashlib
import json
import re
import threading
import zlib
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from pieces.data import toml_data
from pieces.errors import FormatError
from pieces.exchange.own.sidecar import sidecar_of, sidecar_text
from pieces.exchange.read.reader import FORMS
from reports.errors import MissingError, StateError
from reports.output import write_text
from reports.page.work_folder import PATTERNS

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

NAMED = re.compile(r"[0-9a-f]{32}")

PHOTOS = ("jpg", "jpeg", "png")

PHOTO_SET = "photos"
"""What the name of several photos ends in that are kept as one pattern."""

FILE_NAME = re.compile(rf"[\w ()-]{{1,80}}\.({'|'.join((*FORMS, *PHOTOS, PHOTO_SET))})")
"""What a kept file may be called: it is written under this name to be read."""

PHOTO_NAME = re.compile(rf"[\w ()-]{{1,80}}\.({'|'.join(PHOTOS)})")

PIECES_FILE = re.compile(r"([0-9a-f]{32}\.json)?")

CHANGED = "another tab decided on this file since: open it again to see that"

_keeping = threading.Lock()

LARGEST_FILE, LARGEST_PHOTO, LARGEST_SET = 5_000_000, 25_000_000, 45_000_000
"""Bytes of a file of patterns, of a photo, and of all photos that are kept as one pattern."""

MOST_PHOTOS = 8
"""That are kept as one pattern: as many as can be joined (`pieces.photo.trace.MOST_TOGETHER`)."""


class PhotoAsked(NamedTuple):
    """What a photo is measured by, as people write it: the sheet's line by a ruler, a bare sheet, squares of a mat."""

    line: str = ""
    sheet: str = ""
    mat: str = ""


BY_THE_SHEET = PhotoAsked()
"""By the reference sheet, printed true to scale."""


class DecidedApart(NamedTuple):
    """What was decided of a file elsewhere, and came in by a backup: it is not used, and not lost."""

    told: str
    units: str | None
    size: str | None
    uses_legend: bool
    changed: str


class SentPhotos(NamedTuple):
    """Photos that were sent one behind the other.

    `names` and `sizes` are what each is called and how many bytes it has. `is_joined` is whether they show parts of one
    table, `added_to` the kept photos that they are added to, and `watch` under what name steps are asked for.
    """

    names: Sequence[str]
    sizes: Sequence[int]
    is_joined: bool = False
    added_to: str = ""
    watch: str = ""


@dataclass(frozen=True)
class KeptPattern:
    """A pattern file.

    Parameters
    ----------
    name, source
        What it is called, and what is in it.
    units, size
        How it is read, where it does not say so itself.
    told
        What is decided of it: the small file beside pieces, as TOML.
    uses_legend
        Whether a legend may say what its lines are.
    pieces_file
        The pieces that were last made of it.
    changed
        When that was decided.
    by
        What a photo is measured by.
    photos
        Of several photos, which lie in `source` one behind the other, what each is called and how many bytes it has.
    is_joined
        Whether they show parts of one table, and are joined.
    apart
        What was decided of it elsewhere.
    alarm
        Why no legend is used, if nobody chose that: with it the file has no piece.
    """

    name: str
    source: bytes
    units: str | None = None
    size: str | None = None
    told: str = ""
    uses_legend: bool = True
    pieces_file: str = ""
    changed: str = field(default_factory=lambda: _now())
    by: PhotoAsked = BY_THE_SHEET
    photos: tuple[tuple[str, int], ...] = ()
    is_joined: bool = False
    apart: tuple[DecidedApart, ...] = ()
    alarm: str = ""

    @property
    def title(self) -> str:
        """What people call it."""
        names = [name for name, _ in self.photos]
        return self.name if not names else f"{', '.join(names[:-1])} and {names[-1]}"

    @property
    def files(self) -> dict[str, bytes]:
        """Each file of it by its name."""
        if not self.photos:
            return {self.name: self.source}
        ends = np.cumsum([many for _, many in self.photos]).tolist()
        return {name: self.source[end - many : end] for (name, many), end in zip(self.photos, ends, strict=True)}

    @property
    def id(self) -> str:
        """By which it is found: the same for the same file."""
        kind = self.name.rsplit(".", 1)[-1].lower()
        if self.photos:
            kind += f" {'joined' if self.is_joined else 'each'} {[many for _, many in self.photos]}"
        return hashlib.sha256(kind.encode() + b"\0" + self.source).hexdigest()[:32]

    @property
    def decisions(self) -> dict[str, Any]:
        """What is decided of it, as plain data."""
        return toml_data(self.told, self.name, FormatError)

    def deciding(self, decisions: Mapping[str, Any]) -> KeptPattern:
        """The same with other decisions; FormatError if they are none."""
        sidecar_of(decisions, "what was decided")
        told = sidecar_text(decisions)
        sidecar_of(toml_data(told, "what was decided", FormatError), "what was decided")
        return replace(self, told=told, changed=_now())

    @property
    def own(self) -> DecidedApart:
        """What is decided of it here."""
        return DecidedApart(self.told, self.units, self.size, self.uses_legend, self.changed)

    def beside(self, others: Iterable[DecidedApart]) -> KeptPattern:
        """The same with what was decided elsewhere, each once; where nothing is decided here, the first of it is."""
        known = [self.own, *self.apart]
        for other in others:
            if other.told and all(toml_data(other.told, "", FormatError) != _data(one) for one in known):
                known.append(other)
        if not self.told and not self.apart and len(known) > 1:
            known = known[1:]
        return self._as(known[0], known[1:])

    def taking(self, number: int) -> KeptPattern:
        """The same by what was decided elsewhere, of which it is the number; what is decided here goes beside it.

        MissingError if there is no such thing.
        """
        if not 0 <= number < len(self.apart):
            raise MissingError("those decisions are not kept any more: open the file again")
        rest = [one for at, one in enumerate(self.apart) if at != number]
        return replace(self._as(self.apart[number], [*([self.own] if self.told else []), *rest]), changed=_now())

    def _as(self, own: DecidedApart, apart: Sequence[DecidedApart]) -> KeptPattern:
        told, units, size, uses_legend, changed = own
        return replace(self, told=told, units=units, size=size, uses_legend=uses_legend, changed=changed,
                       apart=tuple(apart))  # fmt: skip


def _data(decided: DecidedApart) -> dict[str, Any]:
    return toml_data(decided.told, "", FormatError)


def _now() -> str:
    return datetime.now(UTC).isoformat()


class Patterns:
    """The pattern files in a folder of saved work."""

    def __init__(self, work: Path) -> None:
        self._folder = work / PATTERNS

    def path(self, id_: str) -> Path:
        """Where one is kept."""
        return self._folder / f"{id_}.json"

    def find(self, id_: str) -> KeptPattern:
        """One of them; MissingError if it is not there."""
        if not (NAMED.fullmatch(id_) and self.path(id_).is_file()):
            raise MissingError("this pattern file is not kept any more: upload it again")
        try:
            return read_pattern(self.path(id_).read_text(encoding="utf-8"))
        except ValueError as error:
            raise MissingError("what is kept of this pattern file is damaged: upload it again") from error

    def pieces(self) -> dict[str, str]:
        """The pieces that were last made of each file, by its id."""
        found = {}
        for path in sorted(self._folder.glob("*.json")):
            with suppress(ValueError, OSError, KeyError, TypeError):
                found[path.stem] = str(json.loads(path.read_text(encoding="utf-8"))["pieces_file"])
        return found

    def known(self, pattern: KeptPattern) -> KeptPattern | None:
        """What is kept of the same file; None if it is new."""
        with suppress(MissingError):
            return self.find(pattern.id)
        return None

    def keep(self, pattern: KeptPattern, *, over: str | None = None) -> None:
        """Keep a file in place of what was kept of it; StateError if that was changed since `over`, where it is given.

        So of two that decide on the same file at once, the second is told.
        """
        with _keeping:
            if over is not None and self.find(pattern.id).changed != over:
                raise StateError(CHANGED)
            write_text(self.path(pattern.id), pattern_text(pattern), durable=True)


def pattern_text(pattern: KeptPattern) -> str:
    """A kept file as `read_pattern` reads it."""
    of_photos = {"photos": [list(photo) for photo in pattern.photos], "is_joined": pattern.is_joined}
    return json.dumps(
        (of_photos if pattern.photos else {})
        | {
            "schema": 1,
            "name": pattern.name,
            "source": base64.b64encode(zlib.compress(pattern.source)).decode(),
            "units": pattern.units,
            "size": pattern.size,
            "told": pattern.told,
            "uses_legend": pattern.uses_legend,
            "pieces_file": pattern.pieces_file,
            "changed": pattern.changed,
            "by": list(pattern.by),
            "apart": [list(one) for one in pattern.apart],
            "alarm": pattern.alarm,
        }
    )


def keep_beside(path: Path, brought: str) -> list[str]:
    """Put what was brought of a pattern file beside what is kept there; its name, if something else is decided here."""
    other = read_pattern(brought)
    with _keeping:
        try:
            kept = read_pattern(path.read_text(encoding="utf-8"))
        except ValueError:  # damaged
            write_text(path, brought, durable=True)
            return []
        after = kept.beside((other.own, *other.apart))
        if after == kept:
            return []
        is_taken = not kept.told and bool(after.told)
        after = replace(after, pieces_file=other.pieces_file) if is_taken else after
        write_text(path, pattern_text(after), durable=True)
    return [kept.title] if after.apart != kept.apart else []


def _require_photos(name: str, photos: tuple[tuple[Any, Any], ...], many: int) -> None:
    """ValueError if the photos of a set are not what it holds: each is written under its name to be read."""
    if name.endswith(f".{PHOTO_SET}") != bool(photos):
        raise ValueError("not a pattern file")
    if not photos:
        return
    names = [each for each, _ in photos]
    is_named = all(isinstance(each, str) and PHOTO_NAME.fullmatch(each) for each in names)
    is_sized = all(type(each) is int and 0 < each <= LARGEST_PHOTO for _, each in photos)
    if not (is_named and is_sized and len(set(names)) == len(names) <= MOST_PHOTOS):
        raise ValueError("photos of a pattern with names or sizes that none have")
    if sum(each for _, each in photos) != many:
        raise ValueError("photos of a pattern that are not all there")


def read_pattern(text: str) -> KeptPattern:
    """A kept file; ValueError if it is none, in whatever way."""
    try:
        data = json.loads(text)
        if not isinstance(data, dict):
            raise ValueError("not a pattern file")
        unpacked = zlib.decompressobj()
        photos = tuple((name, many) for name, many in data.get("photos", ()))
        most = LARGEST_SET if photos else LARGEST_PHOTO
        source = unpacked.decompress(base64.b64decode(data["source"], validate=True), most + 1)
        units, size = data["units"], data["size"]
        texts = [data[key] for key in ("name", "told", "pieces_file", "changed")]
        if len(source) > most or data["schema"] != 1 or not all(isinstance(one, str) for one in texts):
            raise ValueError("not a pattern file")
        by = PhotoAsked(*data.get("by", BY_THE_SHEET))
        if not all(isinstance(one, str) for one in by):
            raise ValueError("not a pattern file")
        if not all(one is None or isinstance(one, str) for one in (units, size)):
            raise ValueError("not a pattern file")
        if not (FILE_NAME.fullmatch(texts[0]) and PIECES_FILE.fullmatch(texts[2])):
            raise ValueError("a pattern file with a name that none has")
        _require_photos(texts[0], photos, len(source))
        found = KeptPattern(
            *(texts[0], source, units, size, texts[1], bool(data["uses_legend"]), texts[2], texts[3], by, photos),
            is_joined=data.get("is_joined") is True,
            apart=tuple(_apart(one) for one in data.get("apart", [])),
            alarm=str(data.get("alarm", ""))[:500],
        )
        for one in (found.own, *found.apart):
            sidecar_of(_data(one), "a pattern file")
    except (KeyError, TypeError, zlib.error) as error:
        raise ValueError(f"not a pattern file: {error}") from error
    return found


def _apart(data: Any) -> DecidedApart:
    """What was decided elsewhere; ValueError or TypeError if it is none."""
    told, units, size, uses_legend, changed = data
    if not (isinstance(told, str) and isinstance(changed, str) and isinstance(uses_legend, bool)):
        raise ValueError("not a pattern file")
    if not all(one is None or isinstance(one, str) for one in (units, size)):
        raise ValueError("not a pattern file")
    return DecidedApart(told, units, size, uses_legend, changed)
