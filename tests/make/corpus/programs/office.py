"""Sheets by an office suite's drawing program: SVG opened and written, by way of its own form, of DXF and of PDF."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

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
    ("sizes", "sizes", Style(), False, SIZE_M | {"asked": {"size": "2"}}),
]
"""Name, sheet, how it is written for the suite, whether it goes through the suite's own form, and what is known."""


def _convert(source: Path, kind: str, folder: Path) -> Path:
    run("soffice", "--headless", "--convert-to", kind, "--outdir", folder, source)
    return folder / f"{source.stem}.{kind}"


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
    others: list[tuple[str, str, str, dict[str, Any]]] = [
        ("out of DXF", "ezdxf old polylines R2000.dxf", "curves", {"refused": "has no piece to cut"}),
        ("out of PDF", "pdf/reportlab old plain.pdf", "plain", {}),
    ]
    for name, source_name, sheet, known in others:
        made = _convert(maker.out / source_name, "svg", maker.work / "made")
        file = f"libreoffice {name} {sheet}.svg"
        made.rename(maker.out / file)
        maker.keep(file, tool, sheet, **({"near": 0.3} | known))
