"""Several photos of paper patterns sent to the page: kept as one pattern, and traced one by one or joined."""

from __future__ import annotations

import threading
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from pieces.errors import FormatError
from reports.page.answers.upload import LONGEST_NAME, kept_stem, read_new
from reports.page.store.patterns import (
    BY_THE_SHEET,
    LARGEST_PHOTO,
    LARGEST_SET,
    MOST_PHOTOS,
    PHOTO_SET,
    PHOTOS,
    KeptPattern,
    Patterns,
    PhotoAsked,
    SentPhotos,
)

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from pieces.exchange.decided.legend import LineLegend
    from reports.page.answers.reading import Tell

_steps: dict[str, dict[str, Any]] = {}
_telling = threading.Lock()


def read_photos(
    sent: SentPhotos,
    data: bytes,
    uploads: Path,
    legends: Sequence[LineLegend] = (),
    *,
    by: PhotoAsked = BY_THE_SHEET,
) -> dict[str, Any]:
    """Trace photos, and keep them and their pieces as one pattern.

    What was decided of the photos that they are added to holds on, as far as its lines are still there.

    Raises
    ------
    FormatError
        If they cannot be read within the limits, hold no piece, or are not joined: what to do about it.
    MissingError
        If those that they are added to are not kept.
    FullError
        If other files are being read already.
    """
    before = Patterns(uploads.parent).find(sent.added_to) if sent.added_to else None
    pattern = _pattern(sent, data, before, by)

    with told_as(sent.watch) as tell:
        return read_new(pattern, uploads, legends=legends, tell=tell)


@contextmanager
def told_as(watch: str) -> Iterator[Tell | None]:
    """What is told of each step of tracing, so that it can be asked for under a name; None without one."""

    def tell(step: dict[str, Any]) -> None:
        with _telling:
            _steps[watch] = step

    try:
        yield tell if watch else None
    finally:
        with _telling:
            _steps.pop(watch, None)


def step_of(watch: str) -> dict[str, Any]:
    """What is done now of the photos that were sent under a name; empty if nothing is."""
    with _telling:
        return dict(_steps.get(watch, {}))


def _pattern(sent: SentPhotos, data: bytes, before: KeptPattern | None, by: PhotoAsked) -> KeptPattern:
    """The photos as one pattern."""
    if len(sent.names) != len(sent.sizes) or sum(sent.sizes) != len(data):
        raise FormatError("the photos did not come whole: send them again")
    photos = {} if before is None else dict(before.files)
    if before is not None and not all(_kind(name) in PHOTOS for name in photos):
        raise FormatError(f"'{before.name}' is not a photo: add photos to photos only")
    at = 0
    for name, many in zip(sent.names, sent.sizes, strict=True):
        if _kind(name) not in PHOTOS:
            raise FormatError(
                f"'{name[:LONGEST_NAME]}' is not a photo: several files at once are photos, JPEG or PNG; send pattern"
                " files one at a time"
            )
        if many > LARGEST_PHOTO:
            raise FormatError(f"'{name[:LONGEST_NAME]}' has more than {LARGEST_PHOTO // 1_000_000} MB: save it smaller")
        photo = data[at : at + many]
        at += many
        if photo in photos.values():
            raise FormatError(f"'{name[:LONGEST_NAME]}' is there twice: choose each photo once")
        photos[_fresh(f"{kept_stem(name)}.{_kind(name)}", photos)] = photo
    if len(photos) == 1:
        ((name, photo),) = photos.items()
        return KeptPattern(name, photo, by=by)
    if len(photos) > MOST_PHOTOS:
        raise FormatError(f"{len(photos)} photos: at most {MOST_PHOTOS} are kept as one pattern: send the others apart")
    source = b"".join(photos.values())
    if len(source) > LARGEST_SET:
        raise FormatError(
            f"the photos have {len(source) / 1e6:.0f} MB, at most {LARGEST_SET // 1_000_000} MB are kept as one"
            " pattern: save them as JPEG at 12 million pixels"
        )
    sizes = tuple((name, len(photo)) for name, photo in photos.items())
    first = kept_stem(sizes[0][0])
    made = KeptPattern(f"{first}.{PHOTO_SET}", source, by=by, photos=sizes, is_joined=sent.is_joined)
    return made if before is None else replace(made, told=before.told)


def _kind(name: str) -> str:
    return name.rpartition(".")[2].lower()


def _fresh(name: str, taken: dict[str, bytes]) -> str:
    """A name that no other photo has."""
    stem, _, kind = name.rpartition(".")
    tried, n = name, 1
    while tried in taken:
        n += 1
        tried = f"{stem} ({n}).{kind}"
    return tried
