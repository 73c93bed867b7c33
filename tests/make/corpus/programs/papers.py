"""Sheets as SVG out of PDF, or out of SVG, by renderers and converters."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from tests.make.corpus.programs.run import PX, SEWN, SIZE_M, Maker, run, version
from tests.make.corpus.source import Style, svg_of

if TYPE_CHECKING:
    from pathlib import Path

PDF: list[tuple[str, str, str, list[str], dict[str, Any]]] = [
    ("pdftocairo", "reportlab old plain", "plain", ["pdftocairo", "-svg", "IN", "OUT"], {}),
    ("pdftocairo", "reportlab old words", "words", ["pdftocairo", "-svg", "IN", "OUT"], {}),
    ("pdftocairo", "reportlab mid curves", "curves", ["pdftocairo", "-svg", "IN", "OUT"], dict(SEWN)),
    ("pdftocairo", "pyx new turned", "turned", ["pdftocairo", "-svg", "IN", "OUT"], {}),
    ("pdf2svg", "reportlab old plain", "plain", ["pdf2svg", "IN", "OUT"], {}),
    ("pdf2svg", "reportlab new framed", "framed", ["pdf2svg", "IN", "OUT"], {}),
    ("mutool", "reportlab old words", "words", ["mutool", "draw", "-F", "svg", "-O", "text=text", "-o", "OUT", "IN"],
     {"told": ["letter"]}),
    ("mutool", "reportlab new sizes", "sizes", ["mutool", "draw", "-F", "svg", "-o", "OUT", "IN"],
     SIZE_M | {"asked": {"size": "2"}}),
    ("mutool", "pyx new turned", "turned", ["mutool", "draw", "-F", "svg", "-o", "OUT", "IN"], {}),
]  # fmt: skip
"""Program, PDF, sheet, command and what is known of the file."""

SVG: list[tuple[str, str, Style, list[str], dict[str, Any]]] = [
    ("rsvg", "plain", Style(), ["rsvg-convert", "-f", "svg", "-o", "OUT", "IN"], dict(PX)),
    ("rsvg", "drafted", Style(), ["rsvg-convert", "-f", "svg", "-o", "OUT", "IN"], PX | {"marks": "lines"}),
    ("rsvg", "words", Style(), ["rsvg-convert", "-f", "svg", "-o", "OUT", "IN"], dict(PX)),
    ("rsvg", "turned", Style(is_placed=True, unit="in"), ["rsvg-convert", "-f", "svg", "-o", "OUT", "IN"], dict(PX)),
    ("rsvg", "lines", Style(copies="symbol"), ["rsvg-convert", "-f", "svg", "-o", "OUT", "IN"], dict(PX)),
    ("cairosvg old", "plain", Style(), ["old/bin/cairosvg", "-f", "svg", "-o", "OUT", "IN"], {}),
    ("cairosvg mid", "turned", Style(is_placed=True), ["mid/bin/cairosvg", "-f", "svg", "-o", "OUT", "IN"], {}),
    ("cairosvg new", "curves", Style(unit="cm"), ["new/bin/cairosvg", "-f", "svg", "-o", "OUT", "IN"],
     SEWN | {"asked": {"units": "px"}}),
    ("rsvg", "curves", Style(drawn="steps"), ["rsvg-convert", "-f", "svg", "-o", "OUT", "IN"], PX | SEWN),
    ("cairosvg old", "framed", Style(drawn="twice"), ["old/bin/cairosvg", "-f", "svg", "-o", "OUT", "IN"], {}),
    ("scour old", "marked", Style(names="layer"), ["old/bin/scour", "-i", "IN", "-o", "OUT"],
     {"names": True, "marks": "named"}),
    ("scour new", "turned", Style(is_placed=True, look="style"),
     ["new/bin/scour", "-i", "IN", "-o", "OUT", "--enable-viewboxing", "--shorten-ids", "--enable-id-stripping"], {}),
]  # fmt: skip


def make(maker: Maker, venvs: Path) -> None:
    """Write all files."""
    poppler, cairo = version("pdftocairo", "-v"), version("rsvg-convert", "--version")
    tools = {"pdftocairo": poppler, "pdf2svg": "pdf2svg 0.2.3", "mutool": version("mutool", "-v"), "rsvg": cairo}
    for program, pdf, sheet, command, known in PDF:
        file = f"{program} {pdf.split()[0]} {sheet}.svg"
        places = {"IN": maker.out / "pdf" / f"{pdf}.pdf", "OUT": maker.work / "page.svg"}
        for old in maker.work.glob("page*.svg"):
            old.unlink()
        run(*(places.get(part, part) for part in command))
        next(maker.work.glob("page*.svg")).rename(maker.out / file)
        maker.keep(file, f"{tools[program]}, PDF by {pdf.split()[0]}", sheet, **known)
    for program, sheet, style, command, known in SVG:
        source = maker.source(f"{program} {sheet}.svg", svg_of(sheet, style))
        file = f"{program} {sheet}.svg"
        first = venvs / command[0] if "/" in command[0] else command[0]
        run(first, *({"IN": source, "OUT": maker.out / file}.get(part, part) for part in command[1:]))
        library = program.split()[0]
        said = tools.get(program) or f"{library} {version(str(first), '--version')}"
        maker.keep(file, said, sheet, **known)
