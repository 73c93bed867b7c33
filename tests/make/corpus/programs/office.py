"""Sheets by an office suite's drawing program: SVG opened and written, by way of its own form, of DXF and of PDF."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tests.make.corpus.flat import many_points
from tests.make.corpus.known import SHEETS
from tests.make.corpus.programs.run import SAID, SEWN, SIZE_M, Maker, run, version
from tests.make.corpus.source import Style, svg_of

if TYPE_CHECKING:
    from pathlib import Path

MADE: list[tuple[str, str, Style, bool, dict[str, Any]]] = [
    ("plain", "plain", Style(), False, {}),
    ("twice", "plain", Style(look="style"), True, {}),
    ("placed", "turned", Style(is_placed=True), False, {}),
    ("curves", "curves", Style(), True, dict(SEWN)),
    ("drafted", "drafted", Style(), False, {"marks": "lines"}),
    ("words", "words", Style(), False, dict(SAID)),
    ("framed", "framed", Style(unit="in"), False, {}),
    ("filled", "lines", Style(paint="#ffcc00"), True, {}),
    ("steps", "curves", Style(drawn="steps"), True, dict(SEWN)),
    ("twice", "lines", Style(drawn="twice"), False, {}),
    ("sizes", "sizes", Style(), False, SIZE_M | {"asked": {"size": "2"}}),
]
"""Name, sheet, how it is written for the suite, whether it goes through the suite's own form, and what is known."""


def _convert(source: Path, kind: str, folder: Path) -> Path:
    run("soffice", "--headless", "--convert-to", kind, "--outdir", folder, source)
    return folder / f"{source.stem}.{kind.partition(':')[0]}"


def make(maker: Maker) -> None:
    """Write all files."""
    tool = version("soffice", "--version").rsplit(" ", 1)[0]
    for name, sheet, style, is_twice, known in MADE:
        source = maker.source(f"office {name}.svg", svg_of(sheet, style))
        if is_twice:
            source = _convert(source, "odg", maker.work)
        made = _convert(source, "svg", maker.work / "made")
        file = f"libreoffice {name} {sheet}.svg"
        made.rename(maker.out / file)
        maker.keep(file, tool, sheet, **({"near": 0.3} | known))
    _tables(maker, tool)
    others: list[tuple[str, str, str, dict[str, Any]]] = [
        ("out of DXF", "ezdxf old polylines R2000.dxf", "curves", {"refused": "has no piece to cut"}),
        ("out of PDF", "pdf/reportlab old plain.pdf", "plain", {}),
    ]
    for name, source_name, sheet, known in others:
        made = _convert(maker.out / source_name, "svg", maker.work / "made")
        file = f"libreoffice {name} {sheet}.svg"
        made.rename(maker.out / file)
        maker.keep(file, tool, sheet, **({"near": 0.3} | known))


def _tables(maker: Maker, tool: str) -> None:
    """Points in a sheet of the suite's tables, as text with commas, semicolons or tabs between."""
    rows = [["piece", "x (mm)", "y (mm)"]]
    for line in SHEETS["plain"].lines():
        rows += [[line.of, f"{x:.3f}", f"{y:.3f}"] for x, y in many_points(line.steps, 60).tolist()]
    source = maker.source("points.csv", "\n".join(",".join(row) for row in rows))
    sheet = _convert(source, "ods", maker.work / "made")
    for name, filter_ in (("commas", "44,34,76,1"), ("semicolons", "59,34,76,1"), ("tabs", "9,34,ANSI,1")):
        made = _convert(sheet, f"csv:Text - txt - csv (StarCalc):{filter_}", maker.work / "made")
        file = f"libreoffice {name} plain.csv"
        made.rename(maker.out / file)
        maker.keep(file, tool, "plain", names=True)
