"""Seam allowances by kind of edge."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from pieces import GARMENTS, Body
from pieces.garments.jacket.allowances import HABITS, KINDS, NAMED, Allowances
from tests.make.lengths import in_mm

if TYPE_CHECKING:
    from pieces import PieceSet
    from pieces.garments import JacketStyle

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]


def of(pieces: PieceSet, piece: str, edge: str) -> float:
    """The allowance of an edge, in."""
    return pieces[piece].edge(edge).allowance / INCH


def test_trade_allowances(body: Body, style: JacketStyle) -> None:
    """3/8 in in general, 1/4 in at necklines and outside edges, 3/4 in at the centre back: pages of the trade."""
    pieces = JACKET.draft(body, replace(style, allowances="trade", back="seam", back_facing="facing"))
    expected = {
        ("back", "side"): 3 / 8, ("back", "armhole"): 3 / 8, ("back", "neck"): 1 / 4, ("back", "centre back"): 3 / 4,
        ("front", "front edge"): 1 / 4, ("front facing", "neck"): 1 / 4, ("back facing", "neck"): 1 / 4,
        ("neckband", "edge"): 1 / 4, ("hem band", "edge"): 3 / 8, ("front", "hem"): 3 / 8, ("cuff", "end"): 3 / 8,
        ("sleeve", "front cap"): 3 / 8, ("sleeve", "wrist"): 3 / 8, ("cuff", "other edge"): 3 / 8,
    }  # fmt: skip
    assert {at: of(pieces, *at) for at in expected} == pytest.approx(expected)


def test_allowances_at_home(body: Body, style: JacketStyle) -> None:
    """5/8 in all round (pages of teachers); what is asked for by name counts before."""
    pieces = JACKET.draft(body, replace(style, **in_mm({"allowances": "home", "neck_seam": INCH / 4})))
    assert of(pieces, "back", "side") == pytest.approx(5 / 8)
    assert of(pieces, "back", "neck") == of(pieces, "neckband", "edge") == pytest.approx(1 / 4)


@pytest.mark.parametrize("kind", NAMED)
def test_each_by_its_name(kind: str, body: Body, style: JacketStyle) -> None:
    """An allowance that is asked for is that of its edges and of no others; the sew lines stay where they are."""
    plain = replace(style, back="seam")
    asked: Any = replace(plain, **in_mm({f"{kind}_seam": 20.0}))
    before, after = JACKET.draft(body, plain), JACKET.draft(body, asked)
    bands = {"cuff": "wrist", "hem band": "hem", "neckband": "neck"}
    for old, new in zip(before, after, strict=True):
        assert shapely.Polygon(old.sew_line).equals_exact(shapely.Polygon(new.sew_line), 1e-6)
        for edge in new.edges:
            own = bands.get(new.name) if edge.name in ("edge", "other edge") else KINDS.get(edge.name)
            assert edge.allowance == pytest.approx(20.0 if own == kind else old.edge(edge.name).allowance), edge.name


def test_bands_end_where_the_zip_does(body: Body, style: JacketStyle) -> None:
    """A zip takes all of an extension of 1 in: fronts, facing and the ends of both bands have it, cuffs do not."""
    pieces = JACKET.draft(body, replace(style, closure="zip"))
    for piece, edge in (
        ("front", "front edge"),
        ("front facing", "front edge"),
        ("hem band", "end"),
        ("neckband", "end"),
    ):
        assert of(pieces, piece, edge) == pytest.approx(1)
    assert of(pieces, "cuff", "end") == pytest.approx(1 / 2)
    (note,) = (note for note in pieces.notes if note.startswith("neckband: cut"))
    assert "and 1 in (25 mm) more for the allowances at its ends" in note
    # As the note says: the opening less 2 in, and 1 in more.
    measures = pieces.measures
    assert (measures["neck_opening"] - measures["neckband_cut_length"]) / INCH == pytest.approx(1)


def test_measures_are_of_what_is_cut(body: Body, style: JacketStyle) -> None:
    """With 3/4 in at the sides, the body is cut 2 in wider than with 1/4 in, and each sleeve 1 in: by their boxes."""
    wide, narrow = (JACKET.draft(body, replace(style, **in_mm({"side_seam": s * INCH}))) for s in (0.75, 0.25))
    for measure, more in (("body_cut_width", 2), ("sleeve_cut_width", 1), ("bust_quarter", 0.5)):
        assert (wide.measures[measure] - narrow.measures[measure]) / INCH == pytest.approx(more)
        assert wide["sleeve"].width == pytest.approx(wide.measures["sleeve_cut_width"], abs=0.6)
    straight = JACKET.draft(body, replace(style, side="straight", **in_mm({"side_seam": 0.25 * INCH})))
    assert straight["back"].cut_line[:, 1].max() == pytest.approx(straight.measures["bust_quarter"])


def test_nothing_holds_for_edges_unknown() -> None:
    """Where nothing is asked for and no habit tells, an edge has the one allowance of all."""
    plain = Allowances(10.0, "one", {}, 0.0)
    assert {plain.of(kind) for kind in KINDS.values()} == {10.0}
    assert set(HABITS["home"]) >= set(NAMED)


def test_hem_bands_that_end_at_tabs(body: Body, style: JacketStyle) -> None:
    """With a zip and tabs, the hem band's ends are as the edges of the tabs, the neckband's as those of the fronts."""
    asked: Any = in_mm({"closure": "zip", "tab_width": 2 * INCH, "allowances": "trade"})
    pieces = JACKET.draft(body, replace(style, **asked))
    assert of(pieces, "hem band", "end") == of(pieces, "hem tab", "band") == pytest.approx(3 / 8)
    assert of(pieces, "neckband", "end") == of(pieces, "front", "front edge") == pytest.approx(1)


def test_no_zip_is_set_into_a_fold(body: Body, style: JacketStyle) -> None:
    """Under a facing that is grown on, bands end as without a zip; where it folds there is a line on the front."""
    pieces = JACKET.draft(body, replace(style, closure="zip", facing="grown-on"))
    assert of(pieces, "hem band", "end") == of(pieces, "neckband", "end") == pytest.approx(1 / 2)
    (line,) = pieces["front"].inner
    assert [y for _, y in line.points] == [0.0, 0.0]
    assert shapely.Polygon(pieces["front"].sew_line).buffer(1e-6).covers(shapely.LineString(line.points))


def test_a_back_facing_alone_is_not_drafted(body: Body, style: JacketStyle) -> None:
    """It is sewn to a separate front facing; without one, a note says that there is none."""
    pieces = JACKET.draft(body, replace(style, back_facing="facing", facing="none"))
    assert "back facing" not in {piece.name for piece in pieces}
    assert any(note.startswith("back_facing: it is sewn to a separate front facing") for note in pieces.notes)
