"""Imported pieces in all sizes of a file of grade rules."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from pieces.errors import FormatError, PieceError
from pieces.exchange.own.grading import read_grading
from reports.ask.one_draft import draft_one

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from pieces import PieceSet
    from reports.ask.job import Job


class RuledSizes(NamedTuple):
    """Pieces by size, in the order of the rules; why there are none of a size; the size that the pieces have."""

    drafted: Mapping[str, PieceSet]
    refused: Mapping[str, str]
    base: str


def grade_sizes(job: Job, rules: Path) -> RuledSizes:
    """The imported pieces of a job in every size of a file of grade rules.

    Raises
    ------
    FormatError
        If the file is not there, or cannot be read.
    PieceError
        If a rule names what the pieces have not.
    """
    if not rules.is_file():
        raise FormatError(
            f"{rules}: no such file: imported pieces have the sizes of a file of grade rules, such as"
            " coat/grading.toml; 'ellwand import --grade' writes one"
        )
    grading, pieces = read_grading(rules), draft_one(job)
    drafted, refused = {}, {}
    for size in grading.sizes:
        try:
            drafted[size] = grading.sized(pieces, size)
        except PieceError as error:
            refused[size] = str(error)
    if not set(drafted) - {grading.base} and refused:
        raise PieceError(f"no size but {grading.base} can be made: {next(iter(refused.values()))}")
    return RuledSizes(drafted, refused, grading.base)
