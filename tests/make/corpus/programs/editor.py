"""Sheets by a vector editor: its own SVG, plain SVG, text as paths, SVG out of PDF, and two kinds of DXF."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tests.make.corpus.programs.run import ASKS, PX, SAID, SEWN, SIZE_M, Maker, run, version
from tests.make.corpus.source import Style, svg_of

if TYPE_CHECKING:
    from pathlib import Path

SVG: list[tuple[str, str, Style, list[str], dict[str, Any]]] = [
    ("own layers", "marked", Style(names="layer"), ["--export-type=svg"], {"names": True, "marks": "named"}),
    ("own drafted", "drafted", Style(names="layer"), ["--export-type=svg"], {"names": True, "marks": "named"}),
    ("own labels", "plain", Style(names="label", look="style"), ["--export-type=svg"], {"names": True}),
    ("own placed", "turned", Style(is_placed=True), ["--export-type=svg"], {"names": True}),
    ("own inches", "curves", Style(unit="in"), ["--export-type=svg"], {"names": True} | SEWN),
    ("own words", "words", Style(), ["--export-type=svg"], {"names": True} | SAID),
    ("plain symbols", "plain", Style(copies="symbol"), ["--export-plain-svg"], {}),
    ("plain clipped", "lines", Style(is_clipped=True, unit="cm"), ["--export-plain-svg"], {"names": True}),
    ("plain groups", "framed", Style(names="group"), ["--export-plain-svg"], {"names": True}),
    ("plain pixels", "turned", Style(unit="px"), ["--export-plain-svg"], {"names": True} | PX),
    ("plain classes", "curves", Style(look="class", is_placed=True), ["--export-plain-svg"], {"names": True} | SEWN),
    ("words as paths", "words", Style(), ["--export-plain-svg", "--export-text-to-path"], {"names": True}),
    ("title as paths", "titled", Style(), ["--export-plain-svg", "--export-text-to-path"],
     {"names": True, "told": ["lettering"]}),
    ("twice", "curves", Style(drawn="twice"), ["--export-plain-svg"], {}),
    ("steps", "curves", Style(drawn="steps", is_placed=True), ["--export-type=svg"], dict(SEWN)),
    ("strokes as paths", "plain", Style(), ["--actions=select-all:all;object-stroke-to-path", "--export-plain-svg"],
     {"names": True, "told": ["drawn as a band"]}),
    ("strokes as paths", "curves", Style(), ["--actions=select-all:all;object-stroke-to-path", "--export-plain-svg"],
     SEWN | {"names": True, "told": ["drawn as a band", "taken as sew line"]}),
    ("drawing only", "plain", Style(names="title"), ["--export-plain-svg", "--export-area-drawing"], {"names": True}),
    ("sizes", "sizes", Style(), ["--export-plain-svg"], SIZE_M | {"asked": {"size": "M"}}),
    ("filled", "curves", Style(paint="#cccccc"), ["--export-plain-svg"], {"names": True}),
    ("dashed", "lines", Style(dashes="4,2"), ["--export-type=svg"], {"names": True}),
]  # fmt: skip
"""Name, sheet, how it is written for the editor, its options, and what is known of the file."""

DXF: list[tuple[str, str, Style, str, dict[str, Any]]] = [
    ("R14 plain", "plain", Style(), "org.ekips.output.dxf_outlines", {}),
    ("R14 curves", "curves", Style(), "org.ekips.output.dxf_outlines", dict(SEWN)),
    ("R14 layers", "marked", Style(names="layer"), "org.ekips.output.dxf_outlines", {"marks": "named"}),
    ("R14 drafted", "drafted", Style(names="layer"), "org.ekips.output.dxf_outlines", {"marks": "named", "near": 0.3}),
    ("R12 lines", "lines", Style(), "org.inkscape.output.dxf_twelve", dict(ASKS)),
    ("R12 turned", "turned", Style(is_placed=True), "org.inkscape.output.dxf_twelve", dict(ASKS)),
]


def make(maker: Maker) -> None:
    """Write all files."""
    tool = version("inkscape", "--version")
    for name, sheet, style, options, known in SVG:
        source = maker.source(f"{name}.svg", svg_of(sheet, style))
        file = f"inkscape {name} {sheet}.svg"
        run("inkscape", source, *options, f"--export-filename={maker.out / file}")
        maker.keep(file, tool, sheet, **known)
    for name, sheet, style, extension, known in DXF:
        source = maker.source(f"{name}.svg", svg_of(sheet, style))
        file = f"inkscape {name}.dxf"
        run("inkscape", source, f"--export-extension={extension}", f"--export-filename={maker.out / file}")
        maker.keep(file, tool, sheet, **known)
    for pdf, sheet, options, known in _pdf(maker.out / "pdf"):
        file = f"inkscape out of PDF {sheet}.svg"
        run("inkscape", pdf, *options, "--export-plain-svg", f"--export-filename={maker.out / file}")
        maker.keep(file, f"{tool}, PDF by {pdf.stem.split()[0]}", sheet, **known)


def _pdf(folder: Path) -> list[tuple[Path, str, list[str], dict[str, Any]]]:
    """PDF by libraries, read in the editor's two ways."""
    return [
        (folder / "reportlab old plain.pdf", "plain", ["--pdf-poppler"], {}),
        (folder / "reportlab old words.pdf", "words", [], SAID | PX),
        (folder / "pyx new turned.pdf", "turned", [], dict(PX)),
    ]
