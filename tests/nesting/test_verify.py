"""The independent check accepts what is sound, and sees each of many forgeries for what it is."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from nesting.errors import CheckError, WrongMarkerError
from nesting.fabric import Fabric
from nesting.lay import lay_mix
from nesting.stretches import fold_then_open
from nesting.verify import TOLERANCE, Asked, Laid, Layout, verify, verify_asked
from nesting.verify.cloth import cloth_of
from nesting.verify.hands import is_short
from nesting.verify.shape import Shape, motions
from pieces import Notch, Piece
from pieces.piece import InnerLine
from tests.nesting import forging
from tests.nesting.forging import (
    TWILL,
    added,
    back,
    behind,
    changed,
    first,
    held,
    laid,
    moved,
    over,
    patch,
    scaled,
    sleeve,
    solved,
    tab,
    turned,
    without,
)
from tests.pieces.outlines import sides

if TYPE_CHECKING:
    from collections.abc import Callable

    from nesting.spread import Spread

WIDE = replace(TWILL, width=2000.0)
PIECES = [back(), sleeve(), tab()]

SOUND: dict[str, tuple[Fabric, Spread, int, dict[str, Any]]] = {
    "open": (TWILL, "open", 2, {}),
    "open, nap": (replace(TWILL, nap=True), "open", 2, {}),
    "open, nap by garment": (replace(TWILL, nap="by garment"), "open", 3, {}),
    "folded": (TWILL, "folded", 2, {}),
    "folded, nap": (replace(TWILL, nap=True), "folded", 2, {}),
    "folded, nap by garment": (replace(TWILL, nap="by garment"), "folded", 4, {}),
    "double-folded": (WIDE, "double-folded", 2, {}),
    "part-folded": (TWILL, "part-folded", 2, {"depth": 200.0}),
    "crosswise": (TWILL, "crosswise", 2, {}),
    "face-up": (TWILL, "face-up", 4, {"plies": 4}),
    "face-to-face": (replace(TWILL, nap=True), "face-to-face", 4, {"plies": 4}),
    "tube": (replace(TWILL, selvedge=0.0), "tube", 2, {}),
}


@pytest.mark.parametrize("name", SOUND)
def test_sound_on_every_spread(name: str) -> None:
    """What is laid on each spread gives what was asked for."""
    fabric, spread, garments, options = SOUND[name]
    marker = laid(PIECES, fabric, spread, garments=garments, **options)
    asked = Asked.of(PIECES, fabric, spread, garments=garments, **options)
    wanted = ["cloth", "places", "outlines", "grain", "counts", *(["nap"] if fabric.nap else []), "fold", "apart"]
    assert held(Layout.of(marker), asked) == wanted
    verify(marker, PIECES, fabric, spread, garments=garments, **options)


def test_sound_in_two_stretches() -> None:
    """Folded and then opened out, each piece lies by the cloth as it lies there."""
    wide = sleeve(name="wide", edges=sides([(0, 0), (300, 0), (300, 700), (0, 760)], [0.0] * 4), notches=(), inner=())
    pieces = [back(), sleeve(), replace(wide, drill_points=())]
    marker = solved(fold_then_open(pieces, TWILL, most=0))
    verify(marker, pieces, TWILL, "fold-then-open")


def test_sound_in_several_sizes() -> None:
    """Garments of two sizes on one marker, nap by garment: of each size the tops of a garment's pieces agree."""
    sizes = [[replace(piece, name=f"{piece.name} {size}") for piece in PIECES] for size in ("S", "L")]
    sets = [(tuple(sizes[0]), 3), (tuple(sizes[1]), 2)]
    fabric = replace(TWILL, nap="by garment")
    marker = solved(lay_mix(sets, fabric, "open"))
    verify_asked(marker, Asked(tuple(sets), fabric, "open"))
    with pytest.raises(WrongMarkerError, match=r"fault of ellwand.*please report"):
        verify_asked(marker, Asked(((sets[0][0], 2), sets[1]), fabric, "open"))


def test_sound_with_tilt_cross_and_free() -> None:
    """Pieces that tolerate a tilt, lie across the grain, or at any eighth of a turn."""
    pieces = [back(), sleeve(tilt=3.0), tab(lies="free", cut=6), patch(lies="cross", cut=3)]
    marker = laid(pieces, TWILL, "open", garments=2)
    verify(marker, pieces, TWILL, "open", garments=2)


@pytest.mark.parametrize("spread", ["open", "folded"])
def test_sound_on_checks(spread: Spread) -> None:
    """On checks the match points lie on the lines in both layers."""
    fabric = replace(TWILL, repeat_along=90.0, repeat_across=60.0)
    pieces = [back(match=(50.0, 0.0)), sleeve(match=(0.0, 60.0)), tab(match=(0.0, 25.0))]
    marker = laid(pieces, fabric, spread)
    assert "pattern" in held(Layout.of(marker), Asked.of(pieces, fabric, spread))


@pytest.mark.parametrize("spread", ["open", "folded", "double-folded", "face-to-face", "tube"])
@pytest.mark.parametrize("nap", [False, True])
def test_sound_on_any_grain(spread: Spread, nap: bool) -> None:
    """Grain at any angle, arrows either way, on cloth that shrinks after cutting: all layers are right."""
    fabric = replace(TWILL, width=2400.0, selvedge=0.0, nap=nap, shrinkage=(8.0, 3.0))
    angles = {"bias": (1.0, 1.0), "steep": (1.0, -3.0), "across": (0.0, 1.0), "reverse": (-1.0, 0.0)}
    pieces = [sleeve(name=name, grain=((0.0, 0.0), end)) for name, end in angles.items()]
    pieces += [back(grain=((100.0, 0.0), (0.0, 0.0))), tab(lies="cross")]
    pieces.append(sleeve(name="loose", lies="free", tilt=3.0))
    marker = laid(pieces, fabric, spread, garments=2)
    verify(marker, pieces, fabric, spread, garments=2)


def test_shrunk_along_the_wrong_axis() -> None:
    """A belt of 1,000 x 50 mm laid across cloth that loses 10 % along is cut 1,000 x 55.6, not 1,111 x 50.

    By hand: 50 / (1 - 0.1) = 55.6. The factors exchanged, left out, or those of seam allowances alone are seen.
    """
    belt = Piece("belt", sides([(0, 0), (1000, 0), (1000, 50), (0, 50)], [0.0] * 4), lies="cross")
    asked = Asked.of([belt], Fabric("twill", 1400.0, shrinkage=(10.0, 0.0)), "open")

    def lying(along: float, across: float, turn: float) -> Layout:
        outline = np.array([(0, 0), (along, 0), (along, across), (0, across)], dtype=float)
        return Layout(1200.0, 0.0, (Laid("belt", outline, turn, False, False),), ())

    held(lying(50 / 0.9, 1000, 90), asked)
    held(lying(1000 / 0.9, 50, 0), asked)
    for along, across, turn in ((50, 1000 / 0.9, 90), (50, 1000, 90), (1000, 50 / 0.9, 0), (1000, 50, 0)):
        with pytest.raises(CheckError, match=r"'belt' is not drawn with its own outline as it is enlarged"):
            held(lying(along, across, turn), asked)


def slanted_back() -> tuple[Layout, Asked]:
    """Half a back on the fold, sleeves and tabs on folded cloth with a nap and a gap."""
    fabric = replace(TWILL, nap=True)
    return Layout.of(laid(PIECES, fabric, "folded")), Asked.of(PIECES, fabric, "folded")


def flat(**changes: Any) -> tuple[Layout, Asked]:
    """The same in a single layer, and a patch that is no pair."""
    pieces, fabric = [*PIECES, patch()], replace(TWILL, **({"nap": True} | changes))
    return Layout.of(laid(pieces, fabric, "open")), Asked.of(pieces, fabric, "open")


def test_what_is_forged_is_sound_before() -> None:
    """The layouts that are spoiled below pass as they are, and so does one whose piece lies behind the others."""
    for layout, asked in (slanted_back(), flat()):
        held(layout, asked)
    held(behind(layout, "sleeve"), asked)


def _two_lefts(layout: Layout) -> Layout:
    mirrored = [i for i, one in enumerate(layout.laid) if one.piece == "sleeve" and one.mirrored]
    layout = replace(layout, laid=tuple(one for i, one in enumerate(layout.laid) if i not in mirrored))
    return added(layout, first(layout, "sleeve"))


def _wrong_edge_on_fold(layout: Layout) -> Layout:
    """The half turned over in its place: the side away from the fold lies there now."""
    return changed(behind(layout, "back"), "back", over())


def _with_marks(layout: Layout, spoil: Callable[[dict[str, Any]], Any]) -> Layout:
    """Marks of a tab in place, as its file has them, spoiled."""
    one = first(layout, "sleeve")
    marks = {"notch": ((0.0, 60.0),), "drill point": ((150.0, 80.0),), "line": ((40.0, 40.0), (90.0, 60.0))}
    shape = Shape.as_drawn(sleeve())
    turn = np.diag([1.0, -1.0 if one.mirrored else 1.0])
    corner = (shape.outline @ turn).min(axis=0)
    assert one.turn == 0
    placed: dict[str, Any] = {
        kind: (np.array(points) @ turn + one.outline.min(axis=0) - corner,) for kind, points in marks.items()
    }
    spoil(placed)
    return changed(layout, "sleeve", lambda one: replace(one, marks=placed))


def _moved_mark(kind: str) -> Callable[[Layout], Layout]:
    return lambda layout: _with_marks(layout, lambda marks: marks.update({kind: (marks[kind][0] + (0.0, 0.5),)}))


def _mirrored_mark(layout: Layout) -> Layout:
    """The notch where the other hand has it."""
    outline = first(layout, "sleeve").outline
    middle = float(outline[:, 1].min() + outline[:, 1].max())
    return _with_marks(layout, lambda marks: marks.update({"notch": (marks["notch"][0] * (1, -1) + (0.0, middle),)}))


Forgery = tuple[str, "Callable[[Layout], Layout]", str]

ON_FOLD: list[Forgery] = [
    ("back dropped", lambda one: without(one, "back"), "'back' is cut 0 as drafted"),
    ("sleeve dropped", lambda one: without(one, "sleeve"), "'sleeve' is cut 0 left and 0 right, wanted 1 left"),
    ("tab doubled", lambda one: added(one, first(one, "tab")), "'tab' is cut 4 times, wanted 2.*wasted"),
    ("back doubled", lambda one: added(one, first(one, "back")), "'back' is cut 2 times, wanted 1"),
    ("half off its fold", lambda one: changed(one, "back", moved(0.0, 0.1)), "fold edge lies 0.10 mm off the fold"),
    ("half over the fold", lambda one: changed(one, "back", moved(0.0, -0.1)), "'back' reaches 0.10 mm beyond the low"),
    ("wrong edge on the fold", _wrong_edge_on_fold, "'back' is half a piece, and its fold edge lies 150.00 mm off"),
    ("against the nap", lambda one: changed(behind(one, "sleeve"), "sleeve", turned(180)), "against the nap"),
    ("turned unsaid", lambda one: changed(behind(one, "sleeve"), "sleeve", turned(180, said=False)), "turned by 180"),
    ("over unsaid", lambda one: changed(behind(one, "sleeve"), "sleeve", over(said=False)), "drawn turned over"),
    ("half said whole", lambda one: changed(one, "back", lambda it: replace(it, on_fold=False)), "not drawn with its"),
    ("whole said half", lambda one: changed(one, "tab", lambda it: replace(it, on_fold=True)), "no piece for the fold"),
    ("1 % larger", lambda one: changed(behind(one, "sleeve"), "sleeve", scaled(1.01, 1.01)), "not drawn with its own"),
    ("0.1 % longer", lambda one: changed(behind(one, "sleeve"), "sleeve", scaled(1.001, 1.0)), "not drawn with its ow"),
    ("over the end", lambda one: replace(one, length=one.length - 0.1), "reaches 0.10 mm beyond the end of"),
    ("over the start", lambda one: changed(one, "back", moved(-2000, 0)), "beyond the start of"),
    ("cloth said wider", lambda one: replace(one, strips=(one.strips[0]._replace(high=700.0),)), "speaks of clo"),
    ("cloth said single", lambda one: replace(one, strips=(one.strips[0]._replace(layers=1),)), "speaks of cloth from"),
    ("a stranger", lambda one: changed(one, "tab", lambda it: replace(it, piece="flap")), "no such piece was asked"),
    ("named another", lambda one: changed(one, "tab", lambda it: replace(it, piece="sleeve")), "outline of 'tab'"),
    ("buffer said less", lambda one: replace(one, gap=2.5), "keeps 2.50 mm between outlines, asked were 5.00"),
    ("no length", lambda one: replace(one, length=float("nan")), "cannot be nan mm long"),
    ("no place", lambda one: changed(one, "tab", moved(float("nan"), 0)), "'tab' has no finite place"),
    ("notch moved", _moved_mark("notch"), "some notch is not drawn where"),
    ("notch mirrored", _mirrored_mark, "some notch is not drawn where"),
    ("drill point moved", _moved_mark("drill point"), "some drill point is not drawn where"),
    ("inner line moved", _moved_mark("line"), "some inner line is not drawn where"),
    ("notch lost", lambda one: _with_marks(one, lambda marks: marks.update(notch=())), "some notch is not drawn where"),
]  # fmt: skip


@pytest.mark.parametrize(("forge", "reason"), [f[1:] for f in ON_FOLD], ids=[f[0] for f in ON_FOLD])
def test_forged_on_folded_cloth(forge: Callable[[Layout], Layout], reason: str) -> None:
    """One thing wrong on folded cloth is seen, for the right reason."""
    layout, asked = slanted_back()
    with pytest.raises(CheckError, match=reason):
        held(forge(layout), asked)


IN_ONE_LAYER: list[Forgery] = [
    ("two lefts", _two_lefts, "'sleeve' is cut 2 left and 0 right, wanted 1 left and 1 right"),
    ("patch turned over", lambda one: changed(one, "patch", over()), "'patch' is cut 0 as drafted and 1 as"),
    ("over the selvedge", lambda one: changed(one, "patch", moved(0, -2000)), "beyond the lower edge of the cloth"),
    ("tilted", lambda one: changed(behind(one, "sleeve"), "sleeve", turned(2)), "'sleeve' lies 2° off the grain"),
    ("across", lambda one: changed(behind(one, "sleeve"), "sleeve", turned(90)), "'sleeve' lies 90° off the grain"),
    ("one patch over", lambda one: added(one, first(one, "patch")), "'patch' is cut 2 as drafted"),
    ("half a back", lambda one: changed(one, "back", lambda it: replace(it, on_fold=True)), "not drawn with its own"),
    ("overlap", lambda one: _beside(one, -0.1), "overlap: they share a strip 0.10 mm wide"),
    ("half the buffer", lambda one: _beside(one, 2.5), "are 2.50 mm apart, asked were 5.00"),
    ("inside another", lambda one: changed(one, "tab", _into(one)), "overlap: they share a strip"),
]  # fmt: skip


def _beside(layout: Layout, gap: float) -> Layout:
    """A tab behind the other, as far off as asked for."""
    layout = behind(behind(layout, "tab"), "tab")
    one, other = (laid for laid in layout.laid if laid.piece == "tab")
    x, y = one.outline.max(axis=0)[0] + gap, one.outline.min(axis=0)[1]
    place = np.array([x, y]) - other.outline.min(axis=0)
    return replace(layout, laid=(*layout.laid[:-1], moved(*place)(other)))


def _into(layout: Layout) -> Callable[[Laid], Laid]:
    """Moves an outline into the middle of the back."""
    middle = first(layout, "back").outline.mean(axis=0)
    return lambda one: replace(one, outline=one.outline - one.outline.mean(axis=0) + middle)


@pytest.mark.parametrize(("forge", "reason"), [f[1:] for f in IN_ONE_LAYER], ids=[f[0] for f in IN_ONE_LAYER])
def test_forged_in_a_single_layer(forge: Callable[[Layout], Layout], reason: str) -> None:
    """One thing wrong in a single layer is seen, for the right reason."""
    layout, asked = flat()
    with pytest.raises(CheckError, match=reason):
        held(forge(layout), asked)


def test_what_is_within_the_tolerance_passes() -> None:
    """Half the tolerance is forgiven in overlap and buffer; twice is not."""
    layout, asked = flat(gap=0.0)
    held(_beside(layout, -TOLERANCE / 2), asked)
    with pytest.raises(CheckError, match="overlap"):
        held(_beside(layout, -2 * TOLERANCE), asked)


def test_a_fault_is_left_out_in_every_layer() -> None:
    """A fault in the upper layer alone is seen: the back on the fold lies over it there."""
    layout, asked = slanted_back()
    spot = first(layout, "back").outline
    x, middle = float(spot[:, 0].mean()), asked.fabric.width / 2
    for low in (middle + 20, middle - 40):
        flawed = replace(asked, flaws=((x, x + 5, low, low + 20),))  # type: ignore[arg-type]
        with pytest.raises(CheckError, match="'back' and a fault in the cloth overlap"):
            held(layout, flawed)
    held(layout, replace(asked, flaws=((layout.length + 10, layout.length + 20, 100, 200),)))  # type: ignore[arg-type]
    with pytest.raises(CheckError, match="long, and the cloth"):
        held(layout, replace(asked, length=layout.length - 1))


def test_off_the_pattern() -> None:
    """On checks a match point 1 mm off the lines, along or across, is seen; so is a pattern that begins elsewhere.

    By hand: lines run along the cloth 60 mm apart, one at its middle; the point lies at 210 + 30 = 600 - 6 x 60.
    """
    piece, fabric = patch(match=(10.0, 30.0)), replace(TWILL, repeat_along=90.0, repeat_across=60.0)
    asked, outline = Asked.of([piece], fabric, "open"), piece.cut_line + (180.0, 210.0)
    layout = Layout(500.0, 5.0, (Laid("patch", outline, 0.0, False, False),), (), start=10.0)
    held(layout, asked)
    held(replace(layout, start=None), asked)
    for x, y, reason in (
        (1.0, 0.0, "1.00 mm off the pattern's lines across"),
        (0.0, 1.0, "1.00 mm off .* along the cl"),
    ):
        with pytest.raises(CheckError, match=reason):
            held(changed(layout, "patch", moved(x, y)), asked)
    with pytest.raises(CheckError, match=r"5\.00 mm off the pattern's lines across"):
        held(replace(layout, start=15.0), asked)


def test_tube_misses_the_pattern_at_its_upper_fold() -> None:
    """On a tube of 1,000 mm with lines 60 mm apart a half on the upper fold lies 20 mm off a line.

    By hand: the folds are 500 = 8 x 60 + 20 mm apart.
    """
    tube = Fabric("tube", 1000.0, repeat_across=60.0)
    piece = back(match=(50.0, 0.0))
    low = piece.cut_line
    asked = Asked.of([piece], tube, "tube")
    sound = Laid("back", low, 0.0, False, True)
    held(Layout(300.0, 0.0, (sound,), ()), asked)
    high = Laid("back", low * (1, -1) + (0, 500.0), 0.0, True, True)
    with pytest.raises(CheckError, match=r"20\.00 mm off the pattern's lines along the cloth in the lower layer"):
        held(Layout(300.0, 0.0, (high,), ()), asked)


def test_band_of_another_stretch() -> None:
    """A half moved behind the line from which the cloth lies open has no fold there."""
    wide = Piece("wide", sides([(0, 0), (300, 0), (300, 700), (0, 760)], [0.0] * 4), cut=2, mirrored_pair=True)
    pieces = [back(), sleeve(), wide]
    asked = Asked.of(pieces, TWILL, "fold-then-open")
    layout = Layout.of(solved(fold_then_open(pieces, TWILL, most=0)))
    held(layout, asked)
    with pytest.raises(CheckError, match="'back' is half a piece, and there is no fold in the cloth opened out"):
        held(changed(behind(layout, "back"), "back", moved(0, 100)), asked)
    with pytest.raises(CheckError, match="where on the cloth is opened out"):
        held(replace(layout, opened=None), asked)
    assert layout.opened is not None
    with pytest.raises(CheckError, match=r"beyond the (start|end|upper edge) of the"):
        held(replace(layout, opened=layout.opened - 50), asked)


def test_twins_are_wasted_only_if_asked() -> None:
    """A patch needed once is cut double on folded cloth: its twin is wasted, which is said or refused; never two."""
    piece = patch()
    marker = laid([piece], TWILL, "folded", waste_twins=True)
    asked = Asked.of([piece], TWILL, "folded", waste_twins=True)
    held(Layout.of(marker), asked)
    with pytest.raises(CheckError, match="'patch' is cut 1 as drafted and 1 as its mirror image"):
        held(Layout.of(marker), replace(asked, waste_twins=False))
    layout = Layout.of(marker)
    with pytest.raises(CheckError, match="an outline could be left out"):
        held(added(layout, layout.laid[0]), asked)


@pytest.mark.parametrize(
    ("what", "changes"),
    [
        ("notch", {"notches": (Notch("n", (20.0, 50.0)),)}),
        ("drill point", {"drill_points": ((20.0, 10.0),)}),
        ("cutout", {"inner": (InnerLine("cutout", ((10.0, 5.0), (20.0, 5.0), (20.0, 15.0))),)}),
        ("inner line", {"inner": (InnerLine("line", ((10.0, 5.0), (20.0, 5.0))),)}),
    ],
)
def test_a_mark_off_centre_makes_a_twin_wrong(what: str, changes: dict[str, Any]) -> None:
    """A rectangle with one mark off its centre line is not its own mirror image: cut double, its twin is wrong."""
    plain = tab()
    outline = np.array(plain.cut_line)
    layout = Layout(100.0, 0.0, (Laid("tab", outline, 0.0, False, False),), ())
    fabric = Fabric("twill", 1000.0)
    held(layout, Asked.of([plain], fabric, "folded"))
    with pytest.raises(CheckError, match="'tab' is cut 1 as drafted and 1 as its mirror image, wanted 2"):
        held(layout, Asked.of([tab(**changes)], fabric, "folded"))


def test_twin_on_the_wrong_grain() -> None:
    """A pair with its grain at 45°: laid on the bias the left is right and so is its twin; turned over too far, not.

    Right hand by hand: turned over, the grain runs at -45° and comes along the cloth by a turn of +45°, not of -45°.
    """
    piece = sleeve(grain=forging.BIAS, notches=(), drill_points=(), inner=())
    fabric, outline = Fabric("twill", 4000.0), piece.cut_line

    def lying(mirrored: bool, degrees: float, x: float) -> Laid:
        angle = np.radians(degrees)
        turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
        placed = outline @ np.diag([1, -1 if mirrored else 1]) @ turn.T
        return Laid("sleeve", placed - placed.min(axis=0) + (x, 100.0), degrees, mirrored, False)

    sound = Layout(1200.0, 0.0, (lying(False, -45, 0), lying(True, 45, 600)), ())
    held(sound, Asked.of([piece], fabric, "open"))
    held(replace(sound, laid=sound.laid[:1]), Asked.of([piece], fabric, "folded"))
    held(replace(sound, laid=sound.laid[1:]), Asked.of([piece], fabric, "folded"))
    forged = replace(sound, laid=(sound.laid[0], lying(True, -45, 600)))
    with pytest.raises(CheckError, match="'sleeve' lies 90° off the grain"):
        held(forged, Asked.of([piece], fabric, "open"))
    with pytest.raises(CheckError, match="'sleeve' lies 90° off the grain in the lower layer"):
        held(replace(forged, laid=forged.laid[1:]), Asked.of([piece], fabric, "folded"))


def test_nap_of_the_upper_layer() -> None:
    """Folded crosswise the nap of the upper layer runs the other way: a pair cut so shades differently."""
    piece, fabric = sleeve(), replace(TWILL, nap=True)
    layout = Layout(400.0, 5.0, (Laid("sleeve", piece.cut_line + (20, 100), 0.0, False, False),), ())
    held(layout, Asked.of([piece], TWILL, "crosswise"))
    with pytest.raises(CheckError, match="'sleeve' lies against the nap in the upper layer"):
        held(layout, Asked.of([piece], fabric, "crosswise"))
    plies = Asked.of([piece], fabric, "face-to-face")
    held(layout, plies)


def test_nap_of_a_half_drawn_bottom_up() -> None:
    """A half whose arrow points from the bottom up lies the other way about than the pieces beside it."""
    fabric = Fabric("velvet", 1000.0, nap=True)
    pieces = [back(grain=((100.0, 0.0), (0.0, 0.0))), sleeve()]
    laid_so = (
        Laid("back", pieces[0].cut_line, 0.0, False, True),
        Laid("sleeve", pieces[1].cut_line + (250, 100), 0.0, False, False),
    )
    with pytest.raises(CheckError, match="against the nap"):
        held(Layout(600.0, 0.0, laid_so, ()), Asked.of(pieces, fabric, "folded"))


def test_garments_that_point_both_ways() -> None:
    """Nap by garment: one sleeve turned round belongs to no garment."""
    fabric = replace(TWILL, nap="by garment")
    pieces = [sleeve(), patch()]
    marker = laid(pieces, fabric, "open", garments=2)
    layout, asked = behind(Layout.of(marker), "sleeve"), Asked.of(pieces, fabric, "open", garments=2)
    held(layout, asked)
    with pytest.raises(CheckError, match="the pieces of some garment point both ways on the nap"):
        held(changed(layout, "sleeve", turned(180), which=3), asked)


def test_another_size() -> None:
    """The sleeve of another size in place of one is named."""
    sizes = [(sleeve(name="sleeve S"),), (sleeve(name="sleeve L", edges=sides(forging.LIMB, [12.0] * 4)),)]
    marker = solved(lay_mix([(sizes[0], 1), (sizes[1], 1)], TWILL, "folded"))
    asked = Asked(((sizes[0], 1), (sizes[1], 1)), TWILL, "folded")
    layout = Layout.of(marker)
    held(layout, asked)
    large = first(layout, "sleeve L")
    forged = changed(layout, "sleeve S", lambda one: replace(large, piece="sleeve S"))
    with pytest.raises(CheckError, match="'sleeve S' is drawn with the outline of 'sleeve L'"):
        held(forged, asked)


def test_is_short_by_hand() -> None:
    """Hall's condition, by hand: two that serve as either and one left do for two lefts and a right, not for three."""
    either, left = frozenset(("left", "right")), frozenset(("left",))
    there = {either: 2, left: 1}
    assert not is_short(there, {"left": 2, "right": 1})  # type: ignore[type-var]
    assert not is_short(there, {"left": 1, "right": 2})  # type: ignore[type-var]
    assert is_short(there, {"right": 3})  # type: ignore[type-var]


def test_own_images_by_hand() -> None:
    """A rectangle has four own images, a square eight, a slanted piece one; an isosceles triangle two."""
    number = {
        4: [(0, 0), (80, 0), (80, 50), (0, 50)],
        8: [(0, 0), (50, 0), (50, 50), (0, 50)],
        1: forging.LIMB,
        2: [(0, 0), (80, 0), (40, 70)],
    }
    for images, outline in number.items():
        shape = Shape.as_drawn(Piece("it", sides(outline, [0.0] * len(outline))))
        assert len(shape.own_images) == images
    assert len(motions(np.array(number[1]), np.array(number[2]))) == 0


def test_layers_by_hand() -> None:
    """Where a point of the table lies on the flat cloth: cloth of 1,200 mm, 100 mm along and 50 across the table."""
    point = np.array([[100.0, 50.0]])
    by_hand = {
        "open": [(100, 50)],
        "folded": [(100, 650), (100, 550)],
        "tube": [(100, 50), (100, -50)],
        "double-folded": [(100, 350), (100, 250)],
        "part-folded": [(100, 250), (100, 150)],
        "crosswise": [(100, 50), (900, 50)],
        "face-up": [(100, 50), (100, 50)],
        "face-to-face": [(100, 50), (100, 1150)],
    }
    for spread, places in by_hand.items():
        region = cloth_of(Asked.of([], TWILL, spread, depth=200.0), 500.0, None).regions[0]
        assert [tuple(layer.to_cloth(point)[0]) for layer in region.layers] == places, spread


def test_a_garment_turned_round_on_a_nap() -> None:
    """On a nap all garments point one way: two laid nap by garment, one of them turned, are right there alone."""
    pieces = [sleeve(), patch()]
    by_garment, nap = (replace(TWILL, nap=kind) for kind in ("by garment", True))
    layout = Layout.of(laid(pieces, by_garment, "open", garments=2))
    held(layout, Asked.of(pieces, by_garment, "open", garments=2))
    with pytest.raises(CheckError, match="against the nap"):
        held(layout, Asked.of(pieces, nap, "open", garments=2))


def test_the_buffer_is_kept_where_cloth_is_opened() -> None:
    """A piece 2 mm behind one that was cut while the cloth lay folded is too near where 5 mm are asked for."""
    wide = Piece("wide", sides([(0, 0), (300, 0), (300, 700), (0, 760)], [0.0] * 4), cut=2, mirrored_pair=True)
    pieces = [back(), wide]
    asked = Asked.of(pieces, TWILL, "fold-then-open")
    layout = Layout.of(solved(fold_then_open(pieces, TWILL, most=0)))
    held(layout, asked)
    assert layout.opened is not None
    on = [one for one in layout.laid if one.piece == "back"]
    nearer = [moved(-3, 0)(one) for one in layout.laid if one.piece == "wide"]
    with pytest.raises(CheckError, match=r"are 2\.\d\d mm apart, asked were 5\.00"):
        held(replace(layout, laid=(*on, *nearer), opened=layout.opened - 3), asked)


def test_crosswise_a_pattern_meets_itself_only_at_whole_repeats() -> None:
    """Folded across its length at 430 mm, a point at 70 lies at 70 and at 2 x 430 - 70 = 790 mm: 720, or 8 x 90, on.

    On cloth of 400 mm the upper layer's point lies at 730 mm: 660, or 7 x 90 + 30.
    """
    piece, fabric = sleeve(match=(50.0, 60.0)), replace(TWILL, repeat_along=90.0)
    asked = Asked.of([piece], fabric, "crosswise")
    layout = Layout(430.0, 5.0, (Laid("sleeve", piece.cut_line + (20, 100), 0.0, False, False),), ())
    assert "pattern" in held(layout, asked)
    with pytest.raises(CheckError, match=r"30\.00 mm off the pattern's lines across the cloth in the upper layer"):
        held(replace(layout, length=400.0), asked)
