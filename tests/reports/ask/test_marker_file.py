"""Every field of a marker's file, forged by itself: each forgery is seen, or the file refused as no marker's."""

from __future__ import annotations

import copy
import json
from typing import TYPE_CHECKING, Any

import pytest
from pydantic import ValidationError
from pytest import FixtureRequest
from shapely import LinearRing

from nesting.errors import CheckError
from nesting.verify import holding
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.ask.marker_file import MarkerSaid
from reports.ask.wanted import asked_as_said
from reports.plan.effort import Effort
from reports.plan.plain import marker_to_plain
from reports.plan.plan import plan_job
from reports.plan.problems import cut_from
from tests.make.model import with_fabrics

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.piece.piece import Piece
    from reports.ask.offer import FabricOffer

CLOTHS = {
    "open": 'spread = "open"\nselvedge = "1/2 in"\nnap = "by garment"',
    "folded": 'spread = "folded"\nselvedge = "1/2 in"\nnap = true\ngap = "3 mm"',
    "stripes": 'spread = "open"\nrepeat_along = "2 in"\nrepeat_across = "3 in"',
    "stripes across": 'spread = "folded"\nrepeat_across = "1 in"',
    "tube": 'spread = "tube"',
    "double-folded": 'spread = "double-folded"\nselvedge = "1/2 in"',
    "part-folded": 'spread = "part-folded"\nselvedge = "1/4 in"\nfold_depth = "14 in"',
    "part-folded, searched": 'spread = "part-folded"\nselvedge = "1/4 in"',
    "fold-then-open": 'spread = "fold-then-open"\nselvedge = "1/2 in"\ngap = "3 mm"',
    "crosswise": 'spread = "crosswise"\nwaste_twins = true',
    "face-to-face": 'spread = "face-to-face"\nwaste_twins = true\nplies = 4',
    "face-up": 'spread = "face-up"\nwaste_twins = true',
    "best": 'spread = "best"\nselvedge = "1/2 in"\nshrinkage = 4.0\nwashed = "after"',
}

WIDTHS = {"tube": 'opened = "70 in"', "double-folded": 'width = "100 in"', "fold-then-open": 'width = "48 in"'}

WORDS = {
    "spread": ("open", "folded", "tube", "double-folded", "part-folded", "fold-then-open", "crosswise", "face-up"),
    "low_edge": ("selvedge", "fold", "free"),
    "high_edge": ("selvedge", "fold", "free"),
    "kind": ("line", "cutout", "sew"),
}
"""Fields in which other words have a meaning too."""

GARMENTS = 2


@pytest.fixture(scope="module", params=CLOTHS)
def written(request: FixtureRequest) -> Any:
    """A marker's file of a job on one cloth, the job's cloth, and its pieces."""
    cloth = "\n".join(['name = "canvas"', WIDTHS.get(request.param, 'width = "60 in"'), CLOTHS[request.param]])
    job = parse_job(f"garments = {GARMENTS}\n{with_fabrics(cloth)}", "job.toml")
    plan = plan_job(job, Effort(0), rib=False)
    plain = json.loads(json.dumps(marker_to_plain(plan.markers[0][1])))
    return plain, job.fabric[0], cut_from(job.fabric[0], job, draft_job(job))


def wrong_in(plain: dict[str, Any], offer: FabricOffer, pieces: tuple[Piece, Piece, Piece, Piece]) -> str:
    """What is wrong with a marker's file, in a word; nothing if all holds."""
    try:
        said = MarkerSaid.model_validate(plain)
    except ValidationError:
        return "no marker's file"
    if said.all_unknown:
        return "said not to be checked"
    try:
        list(holding(said.layout(), asked_as_said(said, offer, pieces, GARMENTS)))
    except CheckError as error:
        return str(error)
    return ""


def places(plain: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The place of every value in a file; of many alike the first and the last, and of points of a line one within."""
    yield path
    if isinstance(plain, dict):
        for key, value in plain.items():
            yield from places(value, (*path, key))
    elif isinstance(plain, list):
        is_line = all(isinstance(one, list) for one in plain)
        for i in {len(plain) // 2} if is_line and plain else {0, len(plain) - 1} if plain else ():
            yield from places(plain[i], (*path, i))


def others(value: Any, key: Any) -> list[Any]:
    """Other values in place of one."""
    if isinstance(value, bool):
        return [not value]
    if isinstance(value, int):
        return [value + 1, value - 1, value * 3]
    if isinstance(value, float):
        return [value + 0.5, value - 0.5, -value - 1.0]
    if isinstance(value, str):
        return [f"{value} x", "", *(word for word in WORDS.get(key, ()) if word != value)]
    if isinstance(value, list):
        return [value[: len(value) // 2], [*value, [1.0, 1.0]]] if value else [[[1.0, 1.0]]]
    if isinstance(value, dict):
        return [{**value, "beside": 1}, *({k: v for k, v in value.items() if k != gone} for gone in value)]
    return [5.0, 0.0]


def forged(plain: Any, path: tuple[Any, ...], value: Any) -> Any:
    """A file with one value changed."""
    if not path:
        return value
    plain = copy.copy(plain)
    plain[path[0]] = forged(plain[path[0]], path[1:], value)
    return plain


def says_the_same(plain: dict[str, Any], path: tuple[Any, ...], value: float) -> bool:
    """Whether a forgery is as true as what it was made of: the one reason why it may pass.

    A corner moved along the straight line that it lies on draws the same outline, to 0.01 mm; where cloth is folded and
    then opened out, it may begin to lie open anywhere in the gap between the last piece before and the first behind.
    """
    if "outline" in path:
        before, after = (LinearRing(at(one, path[:3])) for one in (plain, forged(plain, path, value)))
        return before.hausdorff_distance(after) <= 0.01
    is_between = plain["spread"] == "fold-then-open" and path in (("bands", 0, "x1"), ("bands", 1, "x0"))
    return is_between and plain["bands"][0]["x1"] <= value <= plain["bands"][1]["x0"]


def at(plain: dict[str, Any], path: tuple[Any, ...]) -> Any:
    """The value in a place."""
    for step in path:
        plain = plain[step]
    return plain


def test_every_field(written: tuple[dict[str, Any], FabricOffer, tuple[Piece, Piece, Piece, Piece]]) -> None:
    """Whatever single value is changed, left out or added, the file is not said to give what was asked for."""
    plain, offer, pieces = written
    assert wrong_in(plain, offer, pieces) == ""
    forgeries = [(path, other) for path in places(plain) for other in others(at(plain, path), path[-1] if path else "")]
    assert len(forgeries) > 150
    passed = [
        (path, str(other)[:50])
        for path, other in forgeries
        if not wrong_in(forged(plain, path, other), offer, pieces) and not says_the_same(plain, path, other)
    ]
    assert passed == []


def test_two_that_change_places(written: tuple[dict[str, Any], FabricOffer, tuple[Piece, Piece, Piece, Piece]]) -> None:
    """Two outlines that exchange any one thing that is said of them: seen, unless they are alike in it."""
    plain, offer, pieces = written
    first = plain["placements"][0]
    for number in (1, -1):
        other = plain["placements"][number]
        for key in first:
            if first[key] == other[key]:
                continue
            swapped = forged(plain, ("placements", 0, key), other[key])
            swapped = forged(swapped, ("placements", number, key), first[key])
            is_same = key == "copy" and first["piece"] == other["piece"]  # numbered in another order, as truly
            assert bool(wrong_in(swapped, offer, pieces)) is not is_same, (number, key)
