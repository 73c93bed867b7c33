"""A file of grade rules: how imported pieces grow from one size to the next (TOML, by hand; or the same as JSON).

::

    sizes = ["S", "M", "L"]       # in order
    base = "M"                    # the size that the pieces have
    source = "graded by hand"

    [[point]]                     # either points of a piece's sew line, from its own origin,
    piece = "back"
    at = ["0 in", "9 1/2 in"]     # along the grain, and across it
    along = "0 in"                # how it moves from one size to the next
    across = "3/8 in"

    [[edge]]                      # or whole edges, moved outwards
    piece = "front"
    edge = "side"
    out = "-1/4 in"
"""

from __future__ import annotations

import json
from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from pieces.data import json_data, toml_data
from pieces.errors import FormatError, LengthError, PieceError, unknown_key
from pieces.exchange.source import read_source
from pieces.piece.grade import EdgeGrade, PointGrade, grade_set
from pieces.units import parse_length

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from pieces.piece.grade import GradeRules
    from pieces.piece.pieces import PieceSet

MOST_SIZES = 40
_KEYS = ("sizes", "base", "source", "point", "edge")
_POINT = ("piece", "at", "along", "across")
_EDGE = ("piece", "edge", "out")


@dataclass(frozen=True)
class Grading:
    """The sizes of imported pieces: the size they have, and rules from one size to the next, by piece."""

    sizes: tuple[str, ...]
    base: str
    source: str
    rules: Mapping[str, GradeRules]

    def sized(self, pieces: PieceSet, size: str) -> PieceSet:
        """The pieces in one of the sizes.

        Raises
        ------
        PieceError
            If a rule names what there is not, or the graded pieces are none.
        """
        steps = self.sizes.index(size) - self.sizes.index(self.base)
        return grade_set(pieces, self.rules, steps) if steps else pieces

    def notes(self, pieces: PieceSet) -> tuple[str, ...]:
        """What is to be told of pieces that have no rules: they are the same in every size."""
        without = [f"'{piece.name}'" for piece in pieces if piece.name not in self.rules]
        return (f"no grade rules, so the same in every size: {', '.join(without)}",) if without else ()


def read_grading(path: Path) -> Grading:
    """The grade rules of a file.

    Raises
    ------
    FormatError
        If it cannot be read, or something in it makes no sense: the entry is named.
    """
    is_json = path.suffix.lower() == ".json"
    text = read_source(path, "json" if is_json else "toml")
    data = json_data(text, str(path), FormatError) if is_json else toml_data(text, str(path), FormatError)
    if not isinstance(data, dict):
        raise FormatError(f"{path}: grade rules are an object with sizes, base and rules")
    _refuse_unknown(data, _KEYS, str(path))
    sizes, base = data.get("sizes"), data.get("base")
    if not isinstance(sizes, list) or not 2 <= len(set(map(str, sizes))) == len(sizes) <= MOST_SIZES:
        raise FormatError(f'{path}: sizes must be 2 to {MOST_SIZES} names, in order, such as sizes = ["S", "M", "L"]')
    names = tuple(map(str, sizes))
    if base not in names:
        raise FormatError(f"{path}: base must be the size of the pieces, one of {', '.join(names)}")
    rules: dict[str, list[Any]] = defaultdict(list)
    for kind, keys in (("point", _POINT), ("edge", _EDGE)):
        for number, entry in enumerate(_entries(data, kind, path), 1):
            where = f"{path}, [[{kind}]] number {number}"
            _refuse_unknown(entry, keys, where)
            for key in keys:
                if key not in entry:
                    raise FormatError(f"{where}: {key} is missing")
            rules[str(entry["piece"])].append(_point(entry, where) if kind == "point" else _edge(entry, where))
    if not rules:
        raise FormatError(f"{path} has no rules: add [[point]] or [[edge]] entries")
    return Grading(names, str(base), str(data.get("source", f"graded by {path.name}")), rules)


def _entries(data: dict[str, Any], kind: str, path: Path) -> list[dict[str, Any]]:
    entries = data.get(kind, [])
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        raise FormatError(f"{path}: write [[{kind}]], in double brackets, on its own line, with its keys below")
    return entries


def _refuse_unknown(given: dict[str, Any], known: tuple[str, ...], where: str) -> None:
    for key in given:
        if key not in known:
            raise FormatError(f"{where}: {unknown_key(key, list(known))}")


def _point(entry: dict[str, Any], where: str) -> PointGrade:
    at = entry["at"]
    if not isinstance(at, list) or len(at) != 2:
        raise FormatError(f'{where}: at needs two lengths, along and across the grain, such as ["0 in", "9 1/2 in"]')
    x, y = (_length(value, f"{where}, at") for value in at)
    return PointGrade((x, y), _length(entry["along"], f"{where}, along"), _length(entry["across"], f"{where}, across"))


def _edge(entry: dict[str, Any], where: str) -> EdgeGrade:
    return EdgeGrade(str(entry["edge"]), _length(entry["out"], f"{where}, out"))


def _length(value: Any, where: str) -> float:
    """A length that may be below 0, mm."""
    text = value.strip() if isinstance(value, str) else value
    sign = -1.0 if isinstance(text, str) and text.startswith("-") else 1.0
    try:
        return sign * parse_length(text[1:] if sign < 0 else text)
    except (LengthError, PieceError) as error:
        raise FormatError(f"{where}: {error}") from error


def grading_text(sizes: Sequence[str], base: str, source: str, rules: Mapping[str, Sequence[PointGrade]]) -> str:
    """Grade rules by points as the text of such a file."""

    def written(value: object) -> str:
        return json.dumps(value, ensure_ascii=False)

    head = [f"sizes = {written(list(sizes))}", f"base = {written(base)}", f"source = {written(source)}"]
    entries = [
        "\n".join(
            [
                "[[point]]",
                f"piece = {written(piece)}",
                f'at = ["{rule.point[0]:.3f} mm", "{rule.point[1]:.3f} mm"]',
                f'along = "{rule.along:.3f} mm"',
                f'across = "{rule.across:.3f} mm"',
            ]
        )
        for piece, points in rules.items()
        for rule in points
    ]
    return "\n\n".join(["\n".join(head), *entries]) + "\n"
