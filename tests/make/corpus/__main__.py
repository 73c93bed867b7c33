"""Make the corpus anew: ``python -m tests.make.corpus WORK``, where WORK has the programs' environments.

Run by hand, with the programs on the path. WORK holds ``venv/old``, ``venv/mid`` and ``venv/new``, environments of
Python with the libraries that the writers import, in three sets of versions, and ``node/node_modules``. What is kept is
an archive of all files, and what is known of each; the tests need nothing else.
"""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import tarfile
from pathlib import Path
from typing import Any

from tests.make.corpus import sheets_json
from tests.make.corpus.programs import cad, editor, geo, office, papers, plot
from tests.make.corpus.programs.run import Maker

ROOT = Path(__file__).parents[3]

KEPT = ROOT / "tests" / "pieces" / "exchange" / "corpus"

WRITERS = ("by_ezdxf", "by_matplotlib", "by_svg", "by_pdf", "by_shapes")

TAGS = ("old", "mid", "new")


def said_rows(*command: str | Path, **environment: str) -> list[dict[str, Any]]:
    """What a writer says of the files that it wrote."""
    known = os.environ | {"PYTHONPATH": str(ROOT)} | environment
    words = [str(part) for part in command]
    done = subprocess.run(words, capture_output=True, text=True, timeout=600, cwd=ROOT, env=known, check=False)
    rows = [json.loads(line[4:]) for line in done.stdout.splitlines() if line.startswith("ROW ")]
    if not rows or "Traceback" in done.stderr:
        raise SystemExit(f"{words[0]}: {done.stderr[-2000:]}")
    return rows


def written(work: Path, out: Path) -> list[dict[str, Any]]:
    """All files, by all writers and programs."""
    modules = "tests.make.corpus.writers"
    rows: list[dict[str, Any]] = []
    for writer in WRITERS:
        for tag in TAGS:
            python = work / "venv" / tag / "bin" / "python"
            rows += said_rows(python, "-W", "ignore", "-m", f"{modules}.{writer}", out, tag)
    rows += said_rows("/usr/bin/python3", "-m", f"{modules}.by_system", out)
    rows += said_rows("freecadcmd", "-c", f"from {modules}.by_freecad import main; main({str(out)!r})")
    sheets = work / "sheets.json"
    sheets_json.main(sheets)
    script = ROOT / "tests" / "make" / "corpus" / "writers" / "by_node.js"
    rows += said_rows("node", script, sheets, out, NODE_PATH=str(work / "node" / "node_modules"))
    (work / "work" / "made").mkdir(parents=True, exist_ok=True)
    maker = Maker(out, work / "work")
    for program in (geo, cad, editor, office, plot):
        program.make(maker)
    papers.make(maker, work / "venv")
    return [*rows, *(row.plain() for row in maker.rows)]


def keep(rows: list[dict[str, Any]], out: Path) -> None:
    """Put all files into one archive, the same for the same files, and what is known of them beside it."""
    rows = sorted(rows, key=lambda row: str(row["file"]))
    with tarfile.open(KEPT / "files.tar.xz", "w:xz", preset=9) as archive:
        for row in rows:
            data = (out / row["file"]).read_bytes()
            entry = tarfile.TarInfo(row["file"])
            entry.size = len(data)
            archive.addfile(entry, io.BytesIO(data))
    lines = ",\n".join(json.dumps(row, ensure_ascii=False) for row in rows)
    (KEPT / "truths.json").write_text(f"[\n{lines}\n]\n", encoding="utf-8")


def main(work: Path) -> None:
    """Write all files and keep them."""
    out = work / "out"
    out.mkdir(exist_ok=True)
    rows = written(work, out)
    keep(rows, out)
    sys.stdout.write(f"{len(rows)} files in {KEPT}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
