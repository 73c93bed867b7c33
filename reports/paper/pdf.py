"""Drawings into PDF, at their true size: pages, layers, and the wish not to be scaled."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np

from pieces.piece.curve import Line as Straight
from reports.draw.kit.sheet import FONT, font_file, typeface_notice
from reports.paper.drawing import POINT, Area, PageLine

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from reports.paper.drawing import Box, KeptDrawing, PageMark, PageWords

BOLD = f"{FONT} Bold"

VERSION = (1, 6)
"""Of PDF: it has layers since 1.5, and the wish not to be scaled since 1.6 (ISO 32000-1, from memory)."""


class Pdf:
    """A PDF in the making, the same bytes every time.

    Parameters
    ----------
    layers
        Layers that a viewer may switch on and off; whether they are on at first.
    """

    def __init__(self, path: Path, title: str, layers: Mapping[str, bool]) -> None:
        from reportlab.pdfbase import pdfdoc
        from reportlab.pdfgen.canvas import Canvas

        _register_fonts()
        self._canvas = Canvas(
            str(path), invariant=1, pageCompression=1, pdfVersion=VERSION, initialFontName=FONT, initialFontSize=7
        )
        self._canvas.setTitle(title)
        self._canvas.setCreator("ellwand")
        self._canvas.setSubject(typeface_notice())
        self._canvas.setViewerPreference("PrintScaling", "None")
        self._keys = {name: f"L{number}" for number, name in enumerate(layers)}
        document = self._canvas._doc  # noqa: SLF001 - reportlab has no public way to layers
        groups = [
            document.Reference(pdfdoc.PDFDictionary({"Type": pdfdoc.PDFName("OCG"), "Name": pdfdoc.PDFString(name)}))
            for name in layers
        ]
        self._properties = dict(zip(self._keys.values(), groups, strict=True))
        if groups:
            off = [group for group, shown in zip(groups, layers.values(), strict=True) if not shown]
            order, hidden = pdfdoc.PDFArray(groups), pdfdoc.PDFArray(off)
            ways = pdfdoc.PDFDictionary({"Order": order, "OFF": hidden})
            catalog = document.Catalog
            catalog.__NoDefault__ = [*catalog.__NoDefault__, "OCProperties"]
            catalog.OCProperties = pdfdoc.PDFDictionary({"OCGs": pdfdoc.PDFArray(groups), "D": ways})
            catalog.PageMode = pdfdoc.PDFName("UseOC")

    def begin(self, width: float, height: float) -> None:
        """Begin a page of this size, mm."""
        self._canvas.setPageSize((width / POINT, height / POINT))

    def paint(self, drawing: KeptDrawing, window: Box, at: tuple[float, float]) -> None:
        """Paint the part of a drawing within a window, whose lower left corner lies at a point of the page, mm."""
        canvas = self._canvas
        canvas.saveState()
        x, y, wide, high = (value / POINT for value in (*at, window[2] - window[0], window[3] - window[1]))
        clip = canvas.beginPath()
        clip.rect(x, y, wide, high)
        canvas.clipPath(clip, stroke=0, fill=0)
        shift = np.array([at[0] - window[0], at[1] - window[1]])
        for mark in drawing.marks:
            low_x, low_y, high_x, high_y = mark.shape.bounds
            if low_x > window[2] or high_x < window[0] or low_y > window[3] or high_y < window[1]:
                continue
            key = self._keys.get(mark.layer or "")
            if key is not None:
                canvas._code.append(f"/OC /{key} BDC")  # noqa: SLF001
            self._paint(mark, shift)
            if key is not None:
                canvas._code.append("EMC")  # noqa: SLF001
        canvas.restoreState()

    def end(self) -> None:
        """End the page."""
        from reportlab.pdfbase import pdfdoc

        self._canvas.showPage()
        if self._properties:
            resources = pdfdoc.PDFResourceDictionary()
            resources.basicFonts()
            resources.Properties = pdfdoc.PDFDictionary(self._properties)
            self._canvas._doc.Pages.pages[-1].Resources = resources  # noqa: SLF001

    def save(self) -> None:
        """Write the file."""
        self._canvas.save()

    def _paint(self, mark: PageMark, shift: Any) -> None:
        if isinstance(mark, PageLine | Area):
            self._path(mark, (mark.points + shift) / POINT, shift)
        else:
            self._words(mark, (mark.at + shift) / POINT)

    def _path(self, mark: PageLine | Area, points: Any, shift: Any) -> None:
        canvas = self._canvas
        is_closed = np.array_equal(points[0], points[-1])
        path = canvas.beginPath()
        path.moveTo(*points[0])
        curves = mark.curves if isinstance(mark, PageLine) else ()
        for curve in curves:
            ends = (curve.end,) if isinstance(curve, Straight) else (curve.lead, curve.trail, curve.end)
            values = ((np.array(ends) + shift) / POINT).ravel().tolist()
            (path.lineTo if len(ends) == 1 else path.curveTo)(*values)
        for x, y in () if curves else points[1 : -1 if is_closed else None]:
            path.lineTo(x, y)
        if is_closed or isinstance(mark, Area):
            path.close()
        if isinstance(mark, Area):
            canvas.setFillGray(mark.grey)
            canvas.drawPath(path, stroke=0, fill=1)
            return
        canvas.setStrokeGray(mark.grey)
        canvas.setLineWidth(mark.width / POINT)
        canvas.setDash([dash / POINT for dash in mark.dashes])
        canvas.drawPath(path, stroke=1, fill=0)

    def _words(self, mark: PageWords, at: Any) -> None:
        canvas = self._canvas
        canvas.saveState()
        canvas.setFillGray(mark.grey)
        canvas.setFont(BOLD if mark.bold else FONT, mark.size / POINT)
        canvas.translate(*at)
        canvas.rotate(mark.turn)
        canvas.drawString(0, 0, mark.words)
        canvas.restoreState()


@cache
def _register_fonts() -> None:
    """Make the pictures' typeface known; it is embedded, so that every printer has it."""
    from reportlab.pdfbase import pdfmetrics, ttfonts

    for name, is_bold in ((FONT, False), (BOLD, True)):
        pdfmetrics.registerFont(ttfonts.TTFont(name, str(font_file(is_bold))))
