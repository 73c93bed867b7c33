"""Ways out: which pieces each leaves on the cloth, and the least bad first."""

from __future__ import annotations

import pytest
import shapely

from pieces import Piece
from pieces.garments import GARMENTS
from pieces.units import INCH
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.ask.template import starting_job
from reports.change.recut import in_two
from reports.change.ways_out import ways_out
from tests.make.model import MODEL
from tests.make.outlines import sides


def test_the_least_bad_comes_first_and_nothing_is_lost() -> None:
    """A jacket's facing goes to other cloth as a whole; then come piecing, cross grain, length and seams."""
    job = parse_job(MODEL)
    now = draft_job(job).of("shell")
    ways = list(ways_out(job, None, now, INCH * 3 / 8, has_nap=False, steps=1))
    assert [way.kind for way in ways] == ["other cloth", "pieced", "cross grain", "shorter hem", "narrower seams"]
    other = ways[0]
    assert {piece.name for piece in (*other.pieces, *other.elsewhere)} == {piece.name for piece in now}
    assert [piece.name for piece in other.elsewhere] == ["front facing"]
    back = {way.kind: way.pieces[0].length for way in ways}
    assert back["pieced"] - back["shorter hem"] == pytest.approx(INCH, abs=0.01)
    assert back["narrower seams"] < back["pieced"]


def test_a_nap_forbids_the_cross_grain() -> None:
    """On cloth with a nap it is refused in words, not dropped."""
    job = parse_job(MODEL)
    ways = ways_out(job, None, draft_job(job).of("shell"), INCH * 3 / 8, has_nap=True, steps=0)
    (across,) = [way for way in ways if way.kind == "cross grain"]
    assert not across.pieces and "nap" in across.refused


@pytest.mark.parametrize("garment", GARMENTS, ids=lambda one: one.name if hasattr(one, "name") else str(one))
def test_every_garment_has_ways_out(garment: object) -> None:
    """At least the seams of each can be narrower, and then its pieces take less cloth."""
    from pieces.garments.known import find_garment

    job = parse_job(starting_job(find_garment(str(getattr(garment, "name", garment)))))
    now = draft_job(job).of("shell")
    (narrower,) = [w for w in ways_out(job, None, now, 9.0, has_nap=False, steps=1) if w.kind == "narrower seams"]
    before, after = (sum(shapely.Polygon(p.unfolded).area * p.cut for p in one) for one in (now, narrower.pieces))
    assert not narrower.refused and after < before


def test_a_seam_across_the_longer_side() -> None:
    """A 200 by 100 oblong cut across with a seam of 10: two parts of 110, by hand."""
    parts = in_two(Piece("facing", sides([(0, 0), (200, 0), (200, 100), (0, 100)], [0.0] * 4)), 10.0)
    assert [(part.length, part.width) for part in parts] == [(110.0, 100.0)] * 2
