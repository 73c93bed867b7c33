"""Reading pictures back: the words of an SVG, and words that stand on one another."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import matplotlib
import shapely
from matplotlib.backends.backend_agg import FigureCanvasAgg

from reports.draw.kit.sheet import missing_glyphs_allowed

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def texts(figure: Figure) -> list[str]:
    """Every piece of text in the figure's SVG."""
    stream = io.BytesIO()
    with matplotlib.rc_context({"svg.fonttype": "none"}), missing_glyphs_allowed():
        figure.savefig(stream, format="svg")
    root = ElementTree.fromstring(stream.getvalue())
    return ["".join(node.itertext()) for node in root.iter() if node.tag.endswith("}text")]


def overlapping(figure: Figure) -> list[str]:
    """Texts whose boxes overlap, pairwise, and texts that leave the page."""
    renderer = FigureCanvasAgg(figure).get_renderer()  # type: ignore[no-untyped-call]
    shown = [text for ax in figure.axes for text in ax.texts if text.get_text().strip()]
    with missing_glyphs_allowed():
        boxes = [shapely.box(*text.get_window_extent(renderer).extents) for text in shown]
    sheet = shapely.box(*figure.bbox.extents)
    faults = [f"{t.get_text()!r} leaves the page" for t, box in zip(shown, boxes, strict=True) if not sheet.covers(box)]
    tree = shapely.STRtree(boxes)
    for i, j in tree.query(boxes, predicate="intersects").T:
        shared = boxes[i].intersection(boxes[j]).area
        if i < j and shared > 0.05 * min(boxes[i].area, boxes[j].area):
            faults.append(f"{shown[i].get_text()!r} on {shown[j].get_text()!r}")
    return faults
