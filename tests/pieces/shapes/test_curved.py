"""Rings, sectors and gores against figures worked out elsewhere."""

from __future__ import annotations

from math import inf, pi

import numpy as np
import pytest
import shapely

from pieces.errors import DraftError
from pieces.shapes.curved import gore, inner_radius, ring, sector
from pieces.shapes.shape import PlainShape
from pieces.units import INCH

# Circle skirts of W = 28 in and L = 24 in: r = W/(2 pi f), 4.46 in seen twice in published tables of full circles, the
# others and the hems computed by the same rule.
SKIRTS = [(1.0, 4.46, 178.8), (0.75, 5.94, 141.1), (0.5, 8.91, 103.4), (0.25, 17.83, 65.7)]


@pytest.mark.parametrize(("share", "radius", "hem"), SKIRTS)
def test_circle_skirt(share: float, radius: float, hem: float) -> None:
    """Radius and hem of a circle skirt are those of the rule; the flattened arcs are as long as true ones."""
    assert inner_radius(28 * INCH, share) / INCH == pytest.approx(radius, abs=0.006)
    shape = PlainShape("skirt")
    skirt = ring(shape, 28 * INCH, 24 * INCH) if share == 1 else sector(shape, 28 * INCH, 24 * INCH, share)
    assert skirt.edge("bottom").length / INCH == pytest.approx(hem, abs=0.06)
    if share < 1:
        assert skirt.edge("top").length == pytest.approx(28 * INCH, rel=2e-4)
        assert all(edge.length == pytest.approx(24 * INCH) for edge in skirt.edges if edge.name == "side")


def test_cut_line_is_not_inside() -> None:
    """The cut line of a ring lies within 0.1 mm of true circles, and its hole is never too large."""
    skirt = ring(PlainShape("skirt", seam=10.0, edges={"bottom": 20.0}), 711.2, 609.6)
    inner = inner_radius(711.2)
    (hole,) = (np.array(line.points) for line in skirt.inner if line.kind == "cutout")
    for line, radius in ((skirt.cut_line, inner + 609.6 + 20), (hole, inner - 10)):
        ends = np.vstack([line, line[:1]])
        middles = (ends[1:] + ends[:-1]) / 2
        assert np.hypot(*line.T) == pytest.approx(radius, abs=0.02)
        assert np.hypot(*middles.T).min() > radius - 0.1


@pytest.mark.parametrize("grain", ["straight", "across"])
def test_gore(grain: str) -> None:
    """A gore's top and bottom are arcs of true length, and its sides as long as its middle."""
    made = gore(PlainShape("gore", grain=grain), 127.0, 444.5, 965.2)  # type: ignore[arg-type]
    assert made.edge("top").length == pytest.approx(127.0, rel=1e-4)
    assert made.edge("bottom").length == pytest.approx(444.5, rel=1e-4)
    narrow = gore(PlainShape("gore", grain=grain), 444.5, 127.0, 965.2)  # type: ignore[arg-type]
    assert narrow.edge("bottom").length == pytest.approx(127.0, rel=1e-4)
    assert shapely.Polygon(narrow.sew_line).area == pytest.approx(shapely.Polygon(made.sew_line).area)
    assert made.width == pytest.approx(narrow.width)


def test_half_on_fold() -> None:
    """Half a gore on the fold, opened out, is the whole one."""
    whole = gore(PlainShape("gore", seam=10.0), 127.0, 444.5, 965.2)
    half = gore(PlainShape("gore", seam=10.0, on_fold=True), 127.0, 444.5, 965.2)
    assert half.on_fold
    assert shapely.Polygon(half.unfolded).symmetric_difference(shapely.Polygon(whole.cut_line)).area < 1.0


def test_ring_in_sectors() -> None:
    """A ring in two parts has two seams; sewn, the parts are as large as the ring."""
    skirt = ring(PlainShape("skirt", seam=10.0), 711.2, 609.6)
    (part,) = skirt.ways[0](2, inf)
    inner = inner_radius(711.2)
    assert (part.cut, skirt.is_closed) == (2, True)
    assert 2 * shapely.Polygon(part.sew_line).area == pytest.approx(pi * ((inner + 609.6) ** 2 - inner**2), rel=1e-3)


def test_refused() -> None:
    """What cannot be drafted is refused by its name."""
    with pytest.raises(DraftError, match=r"'skirt': its inner edge, .* leaves no hole"):
        ring(PlainShape("skirt", seam=200.0), 711.2, 609.6)
    with pytest.raises(DraftError, match="'flare' spreads too far for a gore"):
        gore(PlainShape("flare"), 100.0, 2000.0, 300.0)
    with pytest.raises(DraftError, match="'gore' has no edge 'hem': it has top, bottom, side and join"):
        gore(PlainShape("gore", edges={"hem": 10.0}), 127.0, 444.5, 965.2)


def test_sector_in_gores() -> None:
    """Three parts of a half skirt with wide side seams: two ends, left and right, and a middle; sewn, a whole."""
    skirt = sector(PlainShape("skirt", seam=10.0, edges={"side": 25.0}), 711.2, 609.6, 0.5)
    end, middle = skirt.ways[0](3, inf)
    assert [(part.name, part.cut, part.mirrored_pair) for part in (end, middle)] == [
        ("skirt, end", 2, True),
        ("skirt, middle", 1, False),
    ]
    sewn = [shapely.Polygon(part.sew_line).area for part in (end, middle)]
    assert 2 * sewn[0] + sewn[1] == pytest.approx(shapely.Polygon(skirt.sew_line).area, rel=1e-3)
    assert sorted(edge.name for part in (end, middle) for edge in part.edges).count("join") == 3
