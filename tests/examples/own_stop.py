"""A stop and a listener of one's own: plain functions. It stops once the marker is no longer than 23 in."""

from nesting import Fabric, Result, lay_pieces, solve
from pieces import Piece, inches

tile = Piece.from_polygon([(0, 0), (10, 0), (8, 6), (0, 8)], "tile", unit="in", cut=12)
problem = lay_pieces([tile], Fabric("wool", width="40 in"), "open")
lengths: list[float] = []
result: Result = solve(
    problem, lambda length: length <= inches(23) or len(lengths) > 50, listener=lambda best: lengths.append(best.length)
)
print(f"{len(lengths)} markers, each shorter than the one before, stopped by: {result.stopped_by}")
