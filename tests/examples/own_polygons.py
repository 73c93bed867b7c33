"""Two polygons of one's own on 60 in cloth: how long a marker they need, and how much cloth."""

from nesting import Fabric, MaxIterations, lay_pieces, solve
from pieces import Piece

panel = Piece.from_polygon([(0, 0), (24, 0), (24, 14), (0, 18)], "panel", unit="in", seam="1/2 in", pair=True, cut=4)
strap = Piece.from_polygon([(0, 0), (20, 0), (20, 3), (0, 3)], "strap", unit="in", cut=4)
canvas = Fabric("canvas", width="60 in", selvedge="1/2 in")
result = solve(lay_pieces([panel, strap], canvas, "open"), MaxIterations(50))
print(result.summary("in"))
