"""Sheets as JSON, and as SVG of our own, for writers that are not in Python: ``python -m ... sheets.json``."""

from __future__ import annotations

import json
import sys
from pathlib import Path

from tests.make.corpus.flat import at_end, many_points
from tests.make.corpus.known import PAGE, SHEETS
from tests.make.corpus.source import Style, svg_of

SOURCES = {
    "plain": svg_of("plain"),
    "placed": svg_of("turned", Style(is_placed=True)),
    "copies": svg_of("lines", Style(copies="defs")),
    "symbols": svg_of("plain", Style(copies="symbol", look="style")),
    "curves": svg_of("curves", Style(look="class", unit="cm")),
    "words": svg_of("words"),
}


def main(path: Path) -> None:
    """Write all sheets into one file."""
    sheets = {
        name: [
            {"part": line.part, "of": line.of, "words": line.words, "steps": line.steps,
             "ends": [at_end(step) for step in line.steps],
             "points": many_points(line.steps, 100)[int(line.steps[0][0] != "E") :].round(6).tolist()}
            for line in sheet.lines()
        ]
        for name, sheet in SHEETS.items()
    }  # fmt: skip
    sheets["turned_lines"] = sheets["lines"]
    path.write_text(json.dumps({"page": PAGE, "sheets": sheets, "sources": SOURCES}), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
