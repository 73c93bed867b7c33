"""The rib jacket. Check values, unless another source is named: common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from typing import TYPE_CHECKING, Any

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pieces import GARMENTS, Body, PieceSet
from pieces.body.ranges import usual_range
from pieces.body.sizes import TABLES, find_table
from pieces.errors import DraftError, MeasurementError, OutlineError
from pieces.garments import JacketStyle
from pieces.length import mm
from pieces.piece.pieces import walk
from tests.make.lengths import in_mm
from tests.make.random_bodies import CHOICES, STYLES, TRIED, bodies

if TYPE_CHECKING:
    from pieces.body.ranges import Wearer

INCH = 25.4
JACKET = GARMENTS["rib-jacket"]
WEARERS = ("women", "men", "children")


def inches(pieces: PieceSet, measure: str) -> float:
    """A measure in inches."""
    return pieces.measures[measure] / INCH


def area(pieces: PieceSet, *names: str) -> float:
    """Cloth of some pieces for one garment, mm²."""
    return sum(shapely.Polygon(pieces[name].unfolded).area * pieces[name].cut for name in names)


@pytest.mark.parametrize(
    ("measure", "value"),
    [
        ("body_cut_length", 28),  # 30 finished - 3 of rib + 2 x 1/2
        ("body_cut_width", 55),  # 48 + 2 + 5
        ("shoulder_from_centre", 9),  # 17 / 2 + 1/2
        ("back_neck_depth", 2),
        ("half_neck_width", 3.5),
        ("front_extension", 1),
        ("armhole_depth", 10.5),
        ("sleeve_cut_length", 20),  # 22 - 3 + 1
        ("sleeve_cut_width", 24),  # 16 + 2 + 6
        ("cuff_cut_length", 9.5),  # 8 1/2 + 1
        ("cuff_cut_depth", 7),
        ("hem_band_cut_depth", 7),
        ("neckband_cut_depth", 3),
    ],
)
def test_check_values(jacket: PieceSet, measure: str, value: float) -> None:
    """Each measure is the check value: common practice, no source."""
    assert inches(jacket, measure) == pytest.approx(value, abs=1e-5)


def test_check_ranges(jacket: PieceSet) -> None:
    """Front neck 4 1/2 to 5 in, half neck sewn about 4 in: common practice, no source."""
    assert 4.5 <= inches(jacket, "front_neck_depth") <= 5
    assert inches(jacket, "half_neck_width_sewn") == pytest.approx(4, abs=0.15)


def test_bust_quarter(body: Body, style: JacketStyle) -> None:
    """A bust of 42 and ease of 4 in make a quarter of 12 in: common practice, no source."""
    assert inches(JACKET.draft(body, replace(style, ease=mm(4 * INCH))), "bust_quarter") == pytest.approx(12)


def test_bands_come_from_their_openings(jacket: PieceSet) -> None:
    """Hem band is its opening less 4 in, neckband less 2: common practice, no source."""
    assert inches(jacket, "hem_opening") - inches(jacket, "hem_band_cut_length") == pytest.approx(4)
    assert inches(jacket, "neck_opening") - inches(jacket, "neckband_cut_length") == pytest.approx(2)


def test_armhole_depth_by_rule(body: Body, style: JacketStyle) -> None:
    """Without a measured one, a bust of 42 in gets an armhole 10 1/2 to 11 in deep: common practice, no source."""
    assert 10.5 <= inches(JACKET.draft(replace(body, armhole_depth=None), style), "armhole_depth") <= 11


def test_dropped_shoulder(body: Body, style: JacketStyle) -> None:
    """A shoulder dropped by 1 in lies 10 in from the centre: common practice, no source."""
    assert inches(JACKET.draft(body, replace(style, drop_shoulder=mm(INCH))), "shoulder_from_centre") == pytest.approx(
        10
    )


def test_dropped_shoulder_shortens_the_sleeve(style: JacketStyle) -> None:
    """From the body's shoulder point over the armhole seam to the cuff's end is the sleeve asked for, in all sizes.

    Measured on the sew lines by shapely, straight across: half the cut shoulder, less the seam and half the body's, is
    what the seam drops; to it come the sewn sleeve and the cuff. Cap and armhole are still of one length.
    """
    drafted = 0
    for name in TABLES:
        table = find_table(name)
        for size in table.sizes:
            body = table.body(size)
            short = {"length": 16 * INCH, "rib_depth": 2 * INCH} if table.wearer == "children" else {}
            for drop in (0.0, INCH, 2 * INCH):
                try:
                    pieces = JACKET.draft(body, replace(style, sleeve=None, drop_shoulder=mm(drop), **in_mm(short)))
                except DraftError:
                    continue
                drafted += 1
                cuff = 2 * INCH if short else style.rib_depth
                least, _, most, _ = shapely.Polygon(pieces["sleeve"].sew_line).bounds
                beyond = pieces.measures["shoulder_from_centre"] - style.seam - body.across_shoulder / 2
                assert beyond == pytest.approx(drop)
                assert drop + (most - least) + cuff == pytest.approx(body.arm_length, abs=0.2)
                assert all(abs(walk(seam, pieces)) < 0.5 for seam in pieces.seams if "armhole" in seam.name)
    assert drafted > 90


def test_shoulder_slope(jacket: PieceSet) -> None:
    """The shoulder line has dropped 1 in at 8 in from the centre: common practice, no source; by shapely."""
    upright = shapely.LineString([(-50, 8 * INCH), (4 * INCH, 8 * INCH)])
    crossing = upright.intersection(shapely.Polygon(jacket["back"].cut_line).exterior)
    assert isinstance(crossing, shapely.Point)
    assert crossing.x / INCH == pytest.approx(1, abs=1e-6)


def test_measures_are_those_of_the_pieces(jacket: PieceSet) -> None:
    """The measures told are those of the cut lines, to the 0.2 mm of flattened curves: boxes and chords by shapely."""
    told, back, sleeve = jacket.measures, jacket["back"], jacket["sleeve"]
    assert shapely.Polygon(back.unfolded).bounds[3] * 4 == pytest.approx(told["body_cut_width"], abs=0.8)
    assert back.length == pytest.approx(told["body_cut_length"], abs=0.2)
    assert sleeve.length == pytest.approx(told["sleeve_cut_length"], abs=0.2)
    assert sleeve.width == pytest.approx(told["sleeve_cut_width"], abs=0.5)
    outline = shapely.Polygon(back.cut_line)
    centre = outline.intersection(shapely.LineString([(-50, 0.01), (2000, 0.01)]))
    assert centre.bounds[0] == pytest.approx(told["back_neck_depth"], abs=0.01)
    armhole = (
        shapely.LineString(back.edge("armhole").points),
        shapely.LineString(jacket["front"].edge("armhole").points),
    )
    assert sum(line.length for line in armhole) == pytest.approx(told["armhole_seam"])
    extension = -shapely.Polygon(jacket["front"].cut_line).bounds[1]
    assert extension == pytest.approx(told["front_extension"])


def test_what_there_is(jacket: PieceSet) -> None:
    """Back on the fold, a pair of fronts, sleeves and facings, two cuffs, a hem band and a neckband."""
    listed = {p.name: (p.cut, p.mirrored_pair, p.on_fold, p.material) for p in jacket}
    assert listed == {
        "back": (1, False, True, "shell"),
        "front": (2, True, False, "shell"),
        "sleeve": (2, True, False, "shell"),
        "front facing": (2, True, False, "shell"),
        "cuff": (2, False, False, "rib"),
        "hem band": (1, False, False, "rib"),
        "neckband": (1, False, False, "rib"),
    }


def test_seams_walk(jacket: PieceSet) -> None:
    """Every seam's two sides are within 1 mm; the cap meets the armhole within a hundredth."""
    assert {seam.name: abs(walk(seam, jacket)) < 1.0 for seam in jacket.seams} == dict.fromkeys(
        ("side", "shoulder", "front armhole", "back armhole", "underarm", "cuff", "front edge", "front neckline"), True
    )
    assert jacket.measures["sleeve_cap_seam"] == pytest.approx(jacket.measures["armhole_seam"], abs=0.01)


def test_notches_meet(jacket: PieceSet) -> None:
    """Sewn from the underarm, each notch of the cap falls on its notch of the armhole (shapely)."""
    for side, count in (("front", 1), ("back", 2)):
        hole = shapely.LineString(jacket[side].edge("armhole").points)
        cap = shapely.LineString(jacket["sleeve"].edge(f"{side} cap").points)
        if side == "back":
            cap = cap.reverse()  # its edge runs from the shoulder to the underarm
        ours, theirs = (
            sorted(line.project(shapely.Point(n.point)) for n in jacket[name].notches if n.name == f"{side} armhole")
            for name, line in ((side, hole), ("sleeve", cap))
        )
        assert len(ours) == len(theirs) == count
        assert ours == pytest.approx(theirs, abs=1.0)


def test_areas_by_hand(body: Body, style: JacketStyle) -> None:
    """A straight back has the area of its rectangle less neckline, shoulder wedge and armhole: within 2 %."""
    pieces = JACKET.draft(body, replace(style, side="straight"))
    outline = shapely.Polygon(pieces["back"].cut_line)
    # 28 x 13.75 in; a quarter ellipse of neck; shoulder wedge; armhole as a rectangle less an ellipse's spandrel.
    quarter, tip, drop, deep = 13.75, 9.0, 5.5 / 4.5, 10.5 + 5.5 / 4.5
    wedge = (tip - 3.5) * drop / 2 + (quarter - tip) * deep
    spandrel = (1 - 0.7854) * (quarter - tip) * (deep - drop)
    expected = 28 * quarter - 0.7854 * 2 * 3.5 - wedge + spandrel
    assert outline.area / INCH**2 == pytest.approx(expected, rel=0.04)


def test_front_and_back_share_their_sides(jacket: PieceSet) -> None:
    """Laid over one another, front and back have one side seam and one shoulder."""
    for name in ("side", "shoulder"):
        assert (jacket["front"].edge(name).points == jacket["back"].edge(name).points).all()


def test_sleeve_tapers_smoothly(jacket: PieceSet) -> None:
    """The underarm seam runs inwards all the way from cap to wrist, and meets the wrist squarely."""
    foot = jacket["sleeve"].edge("front underarm").points
    assert (foot[1:, 1] >= foot[:-1, 1] - 1e-9).all()
    assert abs(foot[1, 1] - foot[0, 1]) < 0.05 * abs(foot[1, 0] - foot[0, 0])


@pytest.mark.parametrize("closure", CHOICES["closure"])
@pytest.mark.parametrize("facing", CHOICES["facing"])
@pytest.mark.parametrize("back", CHOICES["back"])
def test_every_choice_drafts(body: Body, style: JacketStyle, closure: Any, facing: Any, back: Any) -> None:
    """Every combination of choices is drafted, passes its own checks, and keeps the cut sizes."""
    for side, rule, tab in product(*(CHOICES[name] for name in ("side", "band_rule", "tab_width"))):
        chosen = replace(style, closure=closure, facing=facing, back=back, side=side, band_rule=rule, tab_width=mm(tab))
        pieces = JACKET.draft(body, chosen)
        pieces.check()
        names = {piece.name for piece in pieces}
        assert ("front facing" in names, "hem tab" in names) == (facing == "separate", tab > 0)
        assert pieces["back"].on_fold == (back == "fold")
        assert pieces["front"].length == pytest.approx(28 * INCH, abs=0.2)  # curves are flattened to 0.2 mm
        sew_back = shapely.Polygon(pieces["back"].sew_line)
        assert sew_back.bounds[1] == pytest.approx(0)  # the sewn centre is the body's centre, seam or fold


@pytest.mark.parametrize("facing", CHOICES["facing"])
def test_closed_front_is_as_wide_as_the_hem_opening(body: Body, style: JacketStyle, facing: Any) -> None:
    """Sewn half back and front edge to edge are half the hem opening: by the sew lines' boxes (shapely)."""
    for closure in CHOICES["closure"]:
        pieces = JACKET.draft(body, replace(style, closure=closure, facing=facing, facing_width=mm(50.0)))
        back, front = (shapely.Polygon(pieces[name].sew_line).bounds for name in ("back", "front"))
        edge = front[1] if facing != "grown-on" else front[1] + 50.0
        assert back[3] + front[3] - edge == pytest.approx(pieces.measures["hem_opening"] / 2)


def test_facing_fits_its_front(jacket: PieceSet) -> None:
    """Turned over at the front edge, the facing lies within the front: sew lines, by shapely."""
    front = shapely.Polygon(jacket["front"].sew_line)
    facing = shapely.Polygon(jacket["front facing"].sew_line)
    assert facing.difference(front.buffer(0.5)).area < 1.0


@pytest.mark.parametrize("wearer", WEARERS)
@settings(max_examples=15)
@given(data=st.data())
def test_any_body_is_drafted_or_told_why(wearer: Wearer, data: st.DataObject) -> None:
    """Any usual body and style give sound pieces, or one line that says what does not go together."""
    measured, style, tried_on = data.draw(bodies(wearer)), data.draw(STYLES), data.draw(TRIED)
    try:
        pieces = JACKET.draft(Body(**in_mm(measured), tried_on=tried_on, wearer=wearer), style)
    except (DraftError, MeasurementError) as error:
        assert "\n" not in str(error) and len(str(error)) > 30
        return
    pieces.check()
    for piece in pieces:
        cut, sewn = shapely.Polygon(piece.cut_line), shapely.Polygon(piece.sew_line)
        assert cut.is_valid and shapely.Polygon(piece.unfolded).is_valid
        assert cut.buffer(1e-6).covers(sewn)


def test_facing_as_wide_as_the_neckline_gives(body: Body, style: JacketStyle) -> None:
    """A facing is 2 1/2 in wide (common practice, no source), and narrower by itself where the neckline is."""
    for neck, narrowest in ((15, 2.5), (9, 1)):
        small = replace(body, neck=mm(neck * INCH))
        separate = JACKET.draft(small, style)["front facing"].edge("hem").length
        grown = -float(JACKET.draft(small, replace(style, facing="grown-on"))["front"].sew_line[:, 1].min()) - INCH
        assert separate == pytest.approx(2.5 * INCH)
        assert narrowest * INCH - 0.1 <= grown <= 2.5 * INCH + 0.1
        assert (grown < 2.4 * INCH) == (neck == 9)


@pytest.mark.parametrize("wearer", WEARERS)
def test_average_bodies_are_drafted(wearer: Wearer) -> None:
    """The middle of each kind of wearer's ranges is drafted with the default style, lengths to suit."""
    names = ("bust", "hip", "across_shoulder", "neck", "upper_arm", "wrist", "arm_length")
    spans = {name: usual_range(wearer, name) for name in names}
    body = Body(**in_mm({name: (span.low + span.high) / 2 for name, span in spans.items()}), wearer=wearer)
    style = JacketStyle() if wearer != "children" else JacketStyle(length=mm(18 * INCH), rib_depth=mm(2 * INCH))
    JACKET.draft(body, style).check()


@settings(max_examples=15)
@given(ease=st.floats(0, 8 * INCH), more=st.floats(0, 3 * INCH))
def test_more_ease_takes_no_less_cloth(body: Body, style: JacketStyle, ease: float, more: float) -> None:
    """With more ease, back and front together are no smaller."""
    try:
        tight, loose = (JACKET.draft(body, replace(style, ease=mm(each))) for each in (ease, ease + more))
    except DraftError:
        assume(False)
    assert area(loose, "back", "front") >= area(tight, "back", "front") - 1.0


@pytest.mark.parametrize(
    ("measured", "asked", "why"),
    [
        ({"neck": 22 * INCH, "across_shoulder": 12.5 * INCH}, {}, "neck is wider than the shoulder"),
        ({"armhole_depth": 5 * INCH}, {"sleeve_room": 12 * INCH}, "cap cannot meet its armhole"),
        ({"armhole_depth": 20 * INCH}, {"length": 45 * INCH, "sleeve_room": -6 * INCH}, "cap cannot meet its armhole"),
        ({}, {"length": 15 * INCH}, "make the jacket longer"),
        ({}, {"sleeve": None}, "the sleeve has no length"),
        ({}, {"sleeve": 6 * INCH}, "make the sleeve longer"),
        ({}, {"sleeve_hem": 40 * INCH}, "give less sleeve_hem"),
        ({}, {"drop_shoulder": 10 * INCH}, "drop the shoulder less"),
        ({}, {"facing_width": 20 * INCH}, "facing_width must be between"),
        ({}, {"seam": 2 * INCH, "closure": "none", "facing": "grown-on"}, "leaves no room for a facing"),
        ({}, {"hem_less": 60 * INCH}, "hem band for an opening"),
    ],
)
def test_what_does_not_go_together(
    body: Body, style: JacketStyle, measured: dict[str, float], asked: dict[str, Any], why: str
) -> None:
    """Measurements that cannot be drafted together are refused in one line that says what to change."""
    with pytest.raises(DraftError, match=why) as error:
        JACKET.draft(replace(body, **in_mm(measured)), replace(style, **in_mm(asked)))
    assert "\n" not in str(error.value)


@pytest.mark.parametrize("name", ["length", "seam", "rib_depth", "neck_rib_depth"])
@pytest.mark.parametrize("value", [0.0, -10.0, float("nan"), float("inf")])
def test_style_needs_sizes(name: str, value: float) -> None:
    """A length, seam or rib depth that is none cannot be asked for."""
    with pytest.raises(DraftError, match=name):
        JacketStyle(**in_mm({name: value}))


@pytest.mark.parametrize(
    "name", ["ease", "sleeve_room", "tab_width", "facing_width", "drop_shoulder", "sleeve_hem", "cuff_add"]
)
@pytest.mark.parametrize("value", [-5000.0, float("nan"), 1e7])
def test_absurd_style(body: Body, style: JacketStyle, name: str, value: float) -> None:
    """An absurd option is refused with an error of ours, never another."""
    with pytest.raises((DraftError, OutlineError)):
        JACKET.draft(body, replace(style, **in_mm({name: value})))


def test_extension_wider_than_any_closure() -> None:
    """A front extension of 20 in is a slip of the pen or the unit, and is refused."""
    with pytest.raises(DraftError, match=r"front_extension of 20 in .* is more than a closure needs"):
        JacketStyle(front_extension=mm(20 * INCH))


def test_button_extension_wider_than_its_seam() -> None:
    """A button extension no wider than the seam leaves no overlap."""
    with pytest.raises(DraftError, match="leaves no overlap"):
        JacketStyle(front_extension=mm(INCH / 2))


def test_options_explain_themselves() -> None:
    """Every option has a help text, and every length and share an example."""
    for option in JACKET.options():
        assert option.metadata["help"]
        assert option.metadata["kind"] == "choice" or option.metadata["example"]


def test_notes_say_which_rule_was_used(jacket: PieceSet, body: Body, style: JacketStyle) -> None:
    """The notes name the rule of each band, and that cap and armhole match."""
    shared = JACKET.draft(body, replace(style, band_rule="share"))
    for notes, rule in ((jacket.notes, "the opening less 4 in"), (shared.notes, "87.5% of the opening")):
        assert any(note.startswith("hem band:") and rule in note for note in notes)
        assert any(note == "sleeve cap and armhole match" for note in notes)
