"""The grade rules of a pattern file kept for a run of its sizes, beside the pieces that they are for."""

from __future__ import annotations

import hashlib
import json
from typing import TYPE_CHECKING, Any

from pieces.data import toml_data
from pieces.errors import FormatError, PieceError
from pieces.exchange.own.grading import read_grading
from reports.ask.imported import read_pieces
from reports.output import write_text
from reports.page.answers.upload import compare_sizes

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pieces.exchange.decided.legend import LineLegend
    from reports.page.store.patterns import KeptPattern


def keep_rules(pattern: KeptPattern, uploads: Path, legends: Sequence[LineLegend] = ()) -> dict[str, Any]:
    """Make the grade rules of a kept file and keep them; where they are, the sizes they lead to, what there is to say.

    Sizes that they do not lead to are not among these, and each is told of.

    Raises
    ------
    FormatError
        If the file has one size, or no rules lead to the others: why.
    FullError
        If other files are being read already.
    """
    compared = compare_sizes(pattern, legends=legends)
    if not compared["text"]:
        raise FormatError("there are no grade rules: " + "; ".join(compared["words"]))
    data = toml_data(compared["text"], pattern.name, FormatError)
    text = json.dumps(data)
    path = uploads / f"{hashlib.sha256(text.encode()).hexdigest()[:32]}.json"
    write_text(path, text)
    pieces, grading = read_pieces(uploads / pattern.pieces_file), read_grading(path)
    sizes, words = [], list(compared["words"])
    for size in grading.sizes:
        try:
            grading.sized(pieces, size)
            sizes.append(size)
        except PieceError as error:
            words.append(f"size {size} cannot be made: {error}")
    if len(sizes) < 2:
        raise FormatError("the grade rules lead to no other size: " + "; ".join(words))
    rules = {"pieces_file": pattern.pieces_file, "grade_file": path.name}
    return rules | {"sizes": sizes, "base": grading.base, "words": words}
