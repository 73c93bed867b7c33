"""What is marked on the pieces of a marker, in its place on the cloth: plain objects, in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

    from nesting.marker.marker import Marker, Placement
    from nesting.problem.item import Variant
    from pieces import Piece


def marker_marks(marker: Marker) -> Iterator[dict[str, Any]]:
    """The grainline of every placement, its notches, drill points and inner lines; none of a bare outline."""
    for place, item, variant, _ in marker.outlines():
        yield _marks(item.piece, variant, place) if item.piece else {}


def _marks(piece: Piece, variant: Variant, place: Placement) -> dict[str, Any]:
    assert variant.transform is not None
    laid = variant.transform.moved(place.x, place.y)

    def to_table(points: Any) -> Any:
        return laid(points).tolist()

    opened = None if piece.fold_edge is None or variant.on_fold else float(piece.fold_edge.points[0, 1])
    single = [[notch.point] for notch in piece.notches], [[point] for point in piece.drill_points]
    notches, drills = ([to_table(one)[0] for one in _both(points, opened)] for points in single)
    lines = [
        {"kind": line.kind, "points": to_table(points)}
        for line in piece.inner
        for points in _both([line.points], opened)
    ]
    return {"grain": to_table(piece.grain), "notches": notches, "drill_points": drills, "inner": lines}


def _both(lines: list[Any], opened: float | None) -> Iterator[Any]:
    """Lines, and of a half that is opened out at y = `opened` those on its other half; one on the fold is one."""
    for line in lines:
        yield line
        if opened is not None:
            other = [(x, 2 * opened - y) for x, y in line]
            if any(abs(y - beyond) > 1e-6 for (_, y), (_, beyond) in zip(line, other, strict=True)):
                yield other
