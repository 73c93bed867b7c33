"""A tote: a bag of rectangles that needs no measurement of a body. All rules are common practice, no source."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Literal

from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError, OutlineError
from pieces.garments.garment import ABOVE_NOTHING, Garment, option
from pieces.garments.idle import idle_notes
from pieces.garments.parts.hem import turned_twice
from pieces.garments.parts.pocket import PATCH_DEPTH, middle_pocket
from pieces.garments.parts.rectangle import straight_edges
from pieces.garments.parts.strap import WIDE_STRAP, strap, strap_stitched, wide_strap
from pieces.garments.planned import edges_named, edges_of_seams, named, sewing_table, steps_by
from pieces.garments.style import GarmentStyle
from pieces.garments.tried import tried_notes
from pieces.piece.finished import Finished
from pieces.piece.piece import InnerLine, Notch, Piece
from pieces.piece.pieces import PieceSet, Seam
from pieces.trims.sewn import Sewn, sewn_seams
from pieces.trims.stock import thread_for
from pieces.trims.trim import TrimNeeded
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from pieces.body.body import Body
    from pieces.garments.parts.rectangle import EdgeFrom
    from pieces.garments.planned import Planned
    from pieces.garments.sewing import SewingStep

HEM = 1.5 * INCH
"""Finished depth of the hem at the upper edge, where there is no lining."""

STRAP: dict[str, float] = {"two": 22 * INCH, "one": 40 * INCH}
"""Finished length of each strap: two for the hands, or one for the shoulder."""

BELOW_TOP, ABOVE_BOTTOM = 2 * INCH, INCH
"""How far a pocket keeps from the upper edge and from the bottom."""

POCKET_SHARE, MOST_POCKET, LEAST_POCKET = 1 / 2, 7 * INCH, 3 * INCH
"""Mouth of a pocket, as a share of the width; no more, and no less."""


LEAST_DEPTH = 5.0
"""A bottom is no shallower than that, mm."""


class ToteStyle(GarmentStyle):
    """How a tote is to be made; lengths are finished, and given with their units."""

    width: Mm = option(14 * INCH, "from side to side", example="14 in", least=ABOVE_NOTHING)
    height: Mm = option(15 * INCH, "from the bottom to the upper edge", example="15 in", least=ABOVE_NOTHING)
    depth: Mm = option(4 * INCH, "of the bottom, by boxed corners; 0 for a flat bag", example="4 in", least=0)
    bottom: Literal["fold", "seam"] = option(
        "fold", "the bag cut in one, folded at the bottom, or of two halves with a seam there", "choice"
    )
    straps: Literal["two", "one", "none"] = option("two", "two for the hands, or one for the shoulder", "choice")
    strap_length: MmOrNone = option(
        None,
        "of each strap, from edge to edge; by default 22 in, of one strap 40 in",
        example="22 in",
        least=ABOVE_NOTHING,
    )
    strap_width: MmOrNone = option(None, "of each strap; by default 1 in", example="1 in", least=ABOVE_NOTHING)
    hem: MmOrNone = option(
        None,
        "of the upper edge, where there is no lining; by default 1 1/2 in",
        example="1 1/2 in",
        least=ABOVE_NOTHING,
    )
    seam: Mm = option(INCH / 2, "seam allowance", example="1/2 in", least=ABOVE_NOTHING)
    lining: Literal["none", "full"] = option("none", "a lining up to the upper edge", "choice")
    pockets: Literal["none", "patch"] = option("none", "a pocket inside", "choice")
    pocket_mouth: MmOrNone = option(
        None,
        "mouth of the pocket; by default half the width, 7 in at the most",
        example="7 in",
        least=ABOVE_NOTHING,
    )
    pocket_cloth: Literal["lining", "shell"] = option("shell", "what the pocket is cut of", "choice")

    def __post_init__(self) -> None:
        super().__post_init__()
        if 0 < self.depth < LEAST_DEPTH:
            raise DraftError(
                f"depth of {format_both(self.depth)} is too little for boxed corners: make it more, or 0 for none",
                about="depth",
            )
        if self.bottom == "fold" and 0 < self.depth <= 2 * self.seam:
            raise DraftError(
                f"depth of {format_both(self.depth)} is no more than the two seams of a boxed corner take: make it more"
                f" than {format_both(2 * self.seam)} or 0, or set bottom to 'seam'",
                about="depth",
            )
        if self.straps == "two" and self.broad > self.width / 2:
            raise DraftError(
                f"strap_width of {format_both(self.broad)} finds no room twice on a bag {format_both(self.width)} wide:"
                f" make it {format_both(self.width / 2)} or less, or set straps to 'one'",
                about="strap_width",
            )

        if self.straps != "none" and self.broad > self.long / 2:
            raise DraftError(
                f"strap_width of {format_both(self.broad)} is more than half of a strap {format_both(self.long)} long:"
                f" make it {format_both(self.long / 2)} or less, or strap_length more",
                about="strap_width",
            )
        if self.straps == "one" and self.broad > self.girth:
            raise DraftError(
                f"strap_width of {format_both(self.broad)} is more than half the bag's girth of"
                f" {format_both(2 * self.girth)}: make it {format_both(self.girth)} or less",
                about="strap_width",
            )
        if self.lining == "none" and turned_twice(self.hemmed) > self.height / 2:
            raise DraftError(
                f"a hem of {format_both(self.hemmed)} is too deep for a bag {format_both(self.height)} high: choose"
                " less, or a higher bag",
                about="hem" if self.hem is not None else "height",
            )

    @property
    def long(self) -> float:
        """Finished length of a strap, mm."""
        return STRAP[self.straps] if self.strap_length is None else self.strap_length

    @property
    def broad(self) -> float:
        """Finished width of a strap, mm."""
        return INCH if self.strap_width is None else self.strap_width

    @property
    def caught(self) -> float:
        """How much of a strap is caught at each of its ends, mm: under the hem, or in the seam of the lining."""
        return self.seam if self.lining == "full" else self.hemmed

    @property
    def hemmed(self) -> float:
        """Finished depth of the hem, mm."""
        return HEM if self.hem is None else self.hem

    @property
    def girth(self) -> float:
        """Half the bag's finished girth, mm: its width and half of its depth on either side."""
        return self.width + self.depth


def draft(body: Body, style: ToteStyle) -> PieceSet:
    """Draft the tote; DraftError where its sizes do not go together."""
    try:
        return _draft(body, style)
    except OutlineError as error:
        raise DraftError(f"these options do not make a tote together: {error}") from error


def _draft(body: Body, style: ToteStyle) -> PieceSet:
    top = style.seam if style.lining == "full" else turned_twice(style.hemmed)
    pieces, seams = [_bag("bag", style, top)], _seams("bag", style)
    if style.lining == "full":
        pieces.append(replace(_bag("bag lining", style, top), material="lining", notches=()))
        seams += (*_seams("bag lining", style), *_upper_seams(style))
    if style.straps != "none":
        ends = (style.caught, style.caught)
        pieces.append(strap("strap", style.long, style.broad, ends, cut=2 if style.straps == "two" else 1))
    if style.pockets == "patch":
        mouth = _mouth(style)
        carrier = 1 if style.lining == "full" else 0
        pieces[carrier] = replace(pieces[carrier], inner=(_place(style, mouth),))
        pieces.append(middle_pocket(mouth, PATCH_DEPTH * mouth, style.seam, style.pocket_cloth))
    cut = pieces[0]
    measures = {
        "bag_cut_length": cut.length,
        "bag_cut_width": cut.width,
        "finished_width": style.width,
        "finished_height": style.height,
        "finished_depth": style.depth,
    }
    finished = (
        Finished("width", style.width),
        Finished("height", style.height),
        Finished("depth", style.depth),
        Finished("round the upper edge", 2 * style.girth),
    )
    notes = tuple(_notes(body, style))
    drafted = PieceSet("tote", tuple(pieces), seams, measures, notes, finished)
    drafted.check()
    return drafted


def _bag(name: str, style: ToteStyle, top: float) -> Piece:
    """The bag in one, cut on a fold, or one of its two halves; squares are cut out where its corners are boxed."""
    high, box, wide, seam = style.height, style.depth / 2, style.girth, style.seam
    if style.bottom == "fold":
        base, half = high + 2 * box, wide / 2
        foot = base + high
        sides: list[EdgeFrom] = [
            ("middle fold", (0.0, 0.0), 0.0),
            ("far top", (foot, 0.0), top),
            ("far side", (foot, half), seam),
            ("far corner across", (base, half), seam),
            ("corner along", (base, half - box), seam),
            ("corner across", (high, half - box), seam),
            ("side", (high, half), seam),
            ("top", (0.0, half), top),
        ]
        notches = [Notch("strap", (x, style.width / 4)) for x in (0.0, foot)]
        grain, label = ((0.3 * foot, 0.0), (0.7 * foot, 0.0)), "middle on fold"
    else:
        foot = high + box
        sides = [
            ("side", (0.0, 0.0), seam),
            ("corner across", (high, 0.0), seam),
            ("corner along", (high, box), seam),
            ("bottom", (foot, box), seam),
            ("other corner along", (foot, wide - box), seam),
            ("other corner across", (high, wide - box), seam),
            ("other side", (high, wide), seam),
            ("top", (0.0, wide), top),
        ]
        notches = [Notch("strap", (0.0, wide / 2 + side * style.width / 4)) for side in (-1, 1)]
        grain, label = ((0.3 * foot, wide / 2), (0.7 * foot, wide / 2)), ""
    return Piece(
        name,
        straight_edges(sides),
        cut=1 if style.bottom == "fold" else 2,
        grain=grain,
        notches=tuple(notches) if style.straps == "two" else (),
        label=label,
    )


def _seams(piece: str, style: ToteStyle) -> tuple[Seam, ...]:
    """The seams of the bag, or of its lining."""

    def of(*names: str) -> tuple[tuple[str, str], ...]:
        return tuple((piece, name) for name in names)

    more = " of the lining" if piece != "bag" else ""
    boxed = style.depth > 0
    if style.bottom == "fold":
        corner = Seam("corner" + more, of("corner across", "far corner across"), of("corner along"))
        return (Seam("side" + more, of("side"), of("far side")), *((corner,) if boxed else ()))
    corners = (
        Seam(f"{side}corner{more}", of(f"{side}corner across"), of(f"{side}corner along")) for side in ("", "other ")
    )
    return (
        Seam("side" + more, of("side"), of("other side")),
        Seam("bottom" + more, of("bottom"), of("bottom")),
        *(corners if boxed else ()),
    )


def _upper_seams(style: ToteStyle) -> tuple[Seam, ...]:
    """Where bag and lining meet."""
    if style.lining == "none":
        return ()
    names = ("top", "far top")[: 2 if style.bottom == "fold" else 1]
    return tuple(Seam(name, (("bag", name),), (("bag lining", name),)) for name in names)


def _mouth(style: ToteStyle) -> float:
    """How wide the mouth of the pocket is, mm; DraftError if there is no room for it."""
    room = min(style.width, (style.height - BELOW_TOP - ABOVE_BOTTOM) / PATCH_DEPTH)
    usual = min(max(POCKET_SHARE * style.width, LEAST_POCKET), MOST_POCKET, max(room, LEAST_POCKET))
    mouth = usual if style.pocket_mouth is None else style.pocket_mouth
    if mouth > room + 1e-6:
        raise DraftError(
            f"a pocket with a mouth of {format_both(mouth)} finds no room in a bag {format_both(style.width)} wide and"
            f" {format_both(style.height)} high: make it smaller, or leave it out",
            about="pockets" if style.pocket_mouth is None else "pocket_mouth",
        )
    return mouth


def _place(style: ToteStyle, mouth: float) -> InnerLine:
    """Where the pocket is sewn on, in the middle."""
    top, low, half = BELOW_TOP, BELOW_TOP + PATCH_DEPTH * mouth, mouth / 2
    if style.bottom == "fold":
        return InnerLine("line", ((top, 0.0), (top, half), (low, half), (low, 0.0)))
    left, right = style.girth / 2 - half, style.girth / 2 + half
    return InnerLine("line", ((top, left), (low, left), (low, right), (top, right), (top, left)))


def _notes(body: Body, style: ToteStyle) -> Iterator[str]:
    """Options and corrections that change nothing."""
    if style.straps != "none" and style.broad > WIDE_STRAP:
        yield wide_strap(style.broad)
    yield from idle_notes(
        style,
        (("strap_length", "strap_width"), style.straps == "none", "no straps are asked for"),
        (("hem",), style.lining == "full", "the upper edge is sewn to the lining"),
        (("pocket_mouth", "pocket_cloth"), style.pockets == "none", "no pocket is asked for"),
    )
    yield from tried_notes(body, "tote")


def trims(drafted: PieceSet, style: ToteStyle) -> tuple[TrimNeeded, ...]:
    """Thread by the seams, and a label."""
    return (*thread_for(_sewn(drafted, style)), TrimNeeded("label", ("upper edge",), count=1))


def _sewn(drafted: PieceSet, style: ToteStyle) -> Iterator[Sewn]:
    """The seams; two halves are sewn to one another at the bottom once. Then what is stitched."""
    yield from sewn_seams(drafted, ("bottom", "bottom of the lining", "top"))
    for seam in drafted.seams:
        if seam.name.startswith("bottom"):
            yield Sewn(seam.name, style.width)
    yield Sewn("upper edge, stitched down", 4 * style.girth, layers=3, stitches=("lockstitch",))
    for piece in drafted:
        if piece.name == "strap":
            yield strap_stitched(piece)
        if piece.name == "patch pocket":
            half = sum(piece.edge(name).length for name in ("pocket side", "bottom", "mouth"))
            yield Sewn("pocket", 2 * half, 3, ("lockstitch",))


def steps(drafted: PieceSet, style: ToteStyle) -> tuple[SewingStep, ...]:
    """The steps of a tote in their order."""
    finish = "top" if style.lining == "full" else "hem"
    table = sewing_table("tote")
    words = {"tuck": table["tuck"][f"{style.straps}-{finish}"], "gap": table["gap"][style.bottom]}
    return tuple(steps_by("tote", _planned(drafted, style, finish), **words))


def _planned(drafted: PieceSet, style: ToteStyle, finish: str) -> Iterator[Planned]:
    carrier = "bag lining" if style.lining == "full" else "bag"
    patch = named(drafted, "patch pocket")
    yield "patch", (), (*patch, carrier) if patch else ()
    yield "straps", (), named(drafted, "strap")
    for key, of in (("", ""), ("-lining", " of the lining")):
        yield "bottom" + key, edges_of_seams(drafted, "bottom" + of), ()
        yield "sides" + key, edges_of_seams(drafted, "side" + of), ()
        yield "corners" + key, edges_of_seams(drafted, "corner" + of, "other corner" + of), ()
    upper = (("bag", "top"), ("bag", "far top"), ("bag lining", "top"), ("bag lining", "far top"))
    yield finish, edges_named(drafted, *upper), named(drafted, "strap")
    yield "label", (), ("bag",)
    yield "last", (), ("bag",)


TOTE = Garment(
    "tote",
    "bag with straps",
    (),
    ToteStyle,
    draft,
    trims,
    steps,
    sketch="M18 48H82V112H18ZM30 48V34C30 2 70 2 70 34V48M36 48V34C36 12 64 12 64 34V48M18 100H26V112M82 100H74V112",
)
