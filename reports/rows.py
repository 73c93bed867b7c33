"""What a cutter reads off a marker: every placement with its number, what it gives, and where it lies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from pieces.shapes.cut import JOIN
from pieces.units import format_size, format_sizes

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from nesting.cloth.band import Band
    from nesting.marker.marker import Marker, Placement
    from nesting.problem.item import Item, Variant
    from nesting.problem.transform import Transform
    from pieces.units import Units


@dataclass(frozen=True, eq=False)
class LaidRow:
    """One placement of a marker, numbered from the start of the cloth."""

    number: int
    placement: Placement
    item: Item
    variant: Variant
    outline: NDArray[np.float64]
    band: Band

    @property
    def transform(self) -> Transform:
        """What brings its piece as drafted on to the cloth, marks and all."""
        assert self.variant.transform is not None
        return self.variant.transform.moved(self.placement.x, self.placement.y)

    @property
    def name(self) -> str:
        """The piece, without its hand."""
        return self.item.piece.name if self.item.piece else self.item.name

    @property
    def gives(self) -> str:
        """What one placement yields."""
        piece, number = self.item.piece, self.item.yields
        if piece is None:
            return "1"
        if self.variant.on_fold:
            return f"{number} on fold"
        opened = ", opened out" if piece.on_fold else ""
        wasted = ", twin wasted" if self.item.wastes_twin else ""
        if not piece.mirrored_pair or (self.band.mirrored and wasted):
            return f"{number}{opened}{wasted}"
        if self.band.mirrored:
            return "left + right" if number == 2 else f"{number // 2} left + {number // 2} right"
        if self.item.name == piece.name:  # its own mirror image: it serves as either hand
            return f"{number}{wasted}"
        hand = "right" if self.variant.mirrored else "left"
        return f"{hand if number == 1 else f'{number} {hand}'}{wasted}"

    @property
    def turn(self) -> str:
        """How the pattern piece lies: turned, face down, both or neither."""
        turn = self.variant.turn % 360
        turned = {0.0: "", 180.0: "turned"}.get(turn, f"turned {turn:g}°")
        return ", ".join(filter(None, (turned, "face down" if self.variant.mirrored else "")))

    @property
    def joined(self) -> str:
        """Of how many parts it is one, and by how many seams they are joined; empty where it is whole."""
        piece = self.item.piece
        return piece.label if piece and any(edge.name == JOIN for edge in piece.edges) else ""

    def size(self, units: Units) -> str:
        """Length along the cloth and width across."""
        return format_sizes((self.variant.length, self.variant.height), units, " × ")

    def start(self, units: Units) -> str:
        """Distance of the outline's box from the start of the cloth."""
        return format_size(self.placement.x, units)

    def edge(self, units: Units) -> str:
        """Distance of the outline's box from the nearest edge of the cloth: a fold, or the selvedge's outer edge."""
        low = self.placement.y - self.band.low + beyond(self.band, "low")
        high = self.band.high - self.placement.y - self.variant.height + beyond(self.band, "high")
        distance, name = (low, edge_name(self.band, "low")) if low <= high else (high, edge_name(self.band, "high"))
        return f"on the {name}" if self.variant.on_fold else f"{format_size(max(0.0, distance), units)}, {name}"


def beyond(band: Band, side: str) -> float:
    """Width of the selvedge beyond an edge of a band, mm; nothing beyond a fold."""
    return band.selvedge if (band.low_edge if side == "low" else band.high_edge) == "selvedge" else 0.0


def edge_name(band: Band, side: str) -> str:
    """What an edge of a band is called; told apart where both edges are of a kind."""
    kind = {"free": "edge"}.get(own := band.low_edge if side == "low" else band.high_edge, own)
    if band.low_edge == band.high_edge:
        return f"{'lower' if side == 'low' else 'upper'} {kind}"
    return kind


def band_words(band: Band) -> str:
    """How a band lies on the table."""
    if band.layers == 1:
        return f"{band.name}{'' if 'single' in band.name else ', single layer'}, right side up"
    return f"{band.name}, {band.layers} layers{', right sides together' if band.mirrored else ', right side up'}"


def marker_rows(marker: Marker) -> list[LaidRow]:
    """All placements, in the order in which a cutter comes to them."""
    found = sorted(marker.outlines(), key=lambda o: (round(o[0].x, 1), o[0].y, o[0].item, o[0].copy))
    bands = marker.problem.bands
    return [
        LaidRow(i, placement, item, variant, outline, bands[variant.band])
        for i, (placement, item, variant, outline) in enumerate(found, 1)
    ]


def table_cells(marker: Marker, units: Units) -> list[tuple[str, ...]]:
    """The marker's table: its headings, then a line for each placement."""
    rows = marker_rows(marker)
    several = len(marker.problem.bands) > 1
    heads = ["#", "piece", "gives", "from start", "from edge", "length × width", "lies"]
    cells = [tuple(heads + ["on"] * several)]
    for row in rows:
        line = [str(row.number), row.name, row.gives, row.start(units), row.edge(units), row.size(units)]
        line += [row.turn or "as drafted"] + [row.band.name] * several
        cells.append(tuple(line))
    return cells
