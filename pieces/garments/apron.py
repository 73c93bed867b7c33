"""An apron with or without a bib, which needs no measurement of a body. All rules are common practice, no source."""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from pieces.body.rules import lacking, measured_or_usual
from pieces.dimensioned import Mm, MmOrNone
from pieces.errors import DraftError, OutlineError
from pieces.garments.garment import ABOVE_NOTHING, Garment, option
from pieces.garments.idle import idle_notes
from pieces.garments.parts.hem import turned_twice
from pieces.garments.parts.pocket import middle_pocket
from pieces.garments.parts.strap import WIDE_STRAP, strap, strap_stitched, wide_strap
from pieces.garments.planned import edges_named, named, sewing_table, steps_by
from pieces.garments.style import GarmentStyle
from pieces.garments.tried import tried_notes
from pieces.piece.curve import Cubic, Line, flatten
from pieces.piece.finished import Finished
from pieces.piece.outline import Edge
from pieces.piece.piece import InnerLine, Piece
from pieces.piece.pieces import PieceSet
from pieces.trims.sewn import Sewn
from pieces.trims.stock import thread_for
from pieces.trims.trim import TrimNeeded
from pieces.units import INCH, format_both

if TYPE_CHECKING:
    from collections.abc import Iterator

    from numpy import float64
    from numpy.typing import NDArray

    from pieces.body.body import Body
    from pieces.garments.planned import Planned
    from pieces.garments.sewing import SewingStep

BIB_WIDTH, NECK_LOOP, NECK_TIE = 10 * INCH, 24 * INCH, 20 * INCH
"""Finished width of a bib at its upper edge, and length of what holds it: a loop, or each of two ties."""

LEAST_SKIRT = 4 * INCH
"""What there is at the least below the bib."""

BOW = 12 * INCH
"""What each of two ties takes for a bow."""

POCKET, LEAST_POCKET, POCKET_DEPTH = 10 * INCH, 3 * INCH, 0.7
"""Mouth of a pocket where there is room, and at the least; and its depth as a share of it."""

BELOW_WAIST, BESIDE, ABOVE_HEM = 3 * INCH, INCH, INCH
"""How far a pocket keeps from the level of the ties, from the sides and from the hem."""

CHILD = "neck: at a child's neck a strap or a cord is a danger, and often against the law: see local codes"

HEMMED = ("hem", "side", "armhole", "bib", "waist")
"""Edges that are turned in twice and stitched."""


class ApronStyle(GarmentStyle):
    """How an apron is to be made; lengths are finished, and given with their units."""

    length: Mm = option(34 * INCH, "from the upper edge to the hem", example="34 in", least=ABOVE_NOTHING)
    width: Mm = option(28 * INCH, "across, where the ties are", example="28 in", least=ABOVE_NOTHING)
    bib_height: Mm = option(
        11 * INCH, "from the ties to the upper edge of the bib; 0 for none", example="11 in", least=0
    )
    bib_width: MmOrNone = option(
        None, "of the bib at its upper edge; by default 10 in", example="10 in", least=ABOVE_NOTHING
    )
    armhole: Literal["curved", "straight"] = option("curved", "how the sides of the bib run to the waist", "choice")
    neck: Literal["loop", "ties"] = option("loop", "what holds the bib: a loop over the head, or two ties", "choice")
    strap_length: MmOrNone = option(
        None,
        "of the loop, or of each tie at the neck; by default 24 in, of ties 20 in",
        example="24 in",
        least=ABOVE_NOTHING,
    )
    tie_length: Mm = option(32 * INCH, "of each tie at the waist", example="32 in", least=ABOVE_NOTHING)
    strap_width: Mm = option(INCH, "of straps and ties", example="1 in", least=ABOVE_NOTHING)
    hem: Mm = option(INCH, "depth of the hems above and below", example="1 in", least=ABOVE_NOTHING)
    side_hem: Mm = option(INCH / 4, "depth of the hems at the sides", example="1/4 in", least=ABOVE_NOTHING)
    seam: Mm = option(INCH / 2, "allowance of the pocket, and of ends of ties", example="1/2 in", least=ABOVE_NOTHING)
    pockets: Literal["none", "patch"] = option("none", "a wide pocket in the middle", "choice")
    pocket_mouth: MmOrNone = option(
        None,
        "mouth of the pocket; by default 10 in, or what there is room for",
        example="10 in",
        least=ABOVE_NOTHING,
    )

    def __post_init__(self) -> None:
        super().__post_init__()
        if self.length < self.bib_height + LEAST_SKIRT:
            raise DraftError(
                f"length of {format_both(self.length)} leaves less than {format_both(LEAST_SKIRT)} below a bib"
                f" {format_both(self.bib_height)} high: make the apron longer, or bib_height smaller",
                about="length",
            )
        if self.has_bib and self.broad > self.width:
            raise DraftError(
                f"bib_width of {format_both(self.broad)} is more than the apron's {format_both(self.width)}: make it"
                " narrower, or the apron wider",
                about="bib_width",
            )
        room = self.length - self.bib_height
        for name, most, of in (
            ("hem", room / 2, f"an apron that is {format_both(room)} long below its upper edge or bib"),
            ("hem", self.bib_height / 2 or room, f"a bib {format_both(self.bib_height)} high"),
            ("side_hem", self.width / 4, f"an apron {format_both(self.width)} wide"),
            ("side_hem", self.broad / 4 if self.has_bib else self.width, f"a bib {format_both(self.broad)} wide"),
            ("strap_width", self.tie_length / 2, f"a tie {format_both(self.tie_length)} long"),
            ("strap_width", room / 2, f"a side {format_both(room)} long"),
        ):
            if getattr(self, name) > most:
                raise DraftError(
                    f"{name} of {format_both(getattr(self, name))} is too much for {of}: choose {format_both(most)} or"
                    " less",
                    about=name,
                )
        if self.has_bib and 2 * self.strap_width > self.broad:
            raise DraftError(
                f"strap_width of {format_both(self.strap_width)} finds no room twice on a bib"
                f" {format_both(self.broad)} wide: make it narrower, or the bib wider",
                about="strap_width",
            )

    @property
    def has_bib(self) -> bool:
        """Whether there is anything above the ties."""
        return self.bib_height > 0

    @property
    def broad(self) -> float:
        """Finished width of the bib at its upper edge, mm."""
        return BIB_WIDTH if self.bib_width is None else self.bib_width

    @property
    def long(self) -> float:
        """Finished length of the loop or of each tie at the neck, mm."""
        usual = NECK_LOOP if self.neck == "loop" else NECK_TIE
        return usual if self.strap_length is None else self.strap_length


def draft(body: Body, style: ApronStyle) -> PieceSet:
    """Draft the apron; DraftError where its sizes do not go together, or its loop does not pass the head."""
    try:
        return _draft(body, style)
    except OutlineError as error:
        raise DraftError(f"these options do not make an apron together: {error}") from error


def _draft(body: Body, style: ApronStyle) -> PieceSet:
    inner: tuple[InnerLine, ...] = ()
    pieces = [strap("waist tie", style.tie_length, style.strap_width, (style.seam, style.seam), 2)]
    if style.has_bib and style.neck == "loop":
        _check_head(body, style)
        pieces.append(strap("neck strap", style.long, style.strap_width, (style.hem, style.hem)))
    elif style.has_bib:
        pieces.append(strap("neck tie", style.long, style.strap_width, (style.seam, style.hem), 2))
    if style.pockets == "patch":
        mouth = _mouth(style)
        pieces.append(middle_pocket(mouth, POCKET_DEPTH * mouth, style.seam))
        inner = (_place(style, mouth),)
    apron = _apron(style, inner)
    measures = {
        "apron_cut_length": apron.length,
        "apron_cut_width": apron.width,
        "finished_length": style.length,
        "finished_width": style.width,
    }
    drafted = PieceSet(
        "apron", (apron, *pieces), (), measures, tuple(_notes(body, style)), tuple(_finished(body, style))
    )
    drafted.check()
    return drafted


def _apron(style: ApronStyle, inner: tuple[InnerLine, ...]) -> Piece:
    """The apron, half of it on a fold."""
    length, half, waist = style.length, style.width / 2, style.bib_height
    wide, narrow = turned_twice(style.hem), turned_twice(style.side_hem)
    top = style.broad / 2 if style.has_bib else half
    edges = [
        Edge("middle fold", Line((0.0, 0.0), (length, 0.0)).flatten(), 0.0, "fold"),
        Edge("hem", Line((length, 0.0), (length, half)).flatten(), wide),
        Edge("side", Line((length, half), (waist, half)).flatten(), narrow),
    ]
    if style.has_bib:
        edges.append(Edge("armhole", _armhole(style), narrow))
    edges.append(Edge("bib" if style.has_bib else "waist", Line((0.0, top), (0.0, 0.0)).flatten(), wide))
    grain = ((0.2 * length, 0.0), (0.8 * length, 0.0))
    return Piece("apron", tuple(edges), grain=grain, inner=inner, label="middle on fold")


def _armhole(style: ApronStyle) -> NDArray[float64]:
    """The side of the bib from the waist up: it runs out upright, so that the hem above it can be turned in."""
    start, end = (style.bib_height, style.width / 2), (0.0, style.broad / 2)
    across = start[1] - end[1]
    if style.armhole == "curved" and across > 0:
        curve = Cubic(start, (start[0], start[1] - 0.55 * across), (0.55 * start[0], end[1]), end)
        return curve.flatten()
    upright = (min(2 * style.hem, style.bib_height / 2), end[1])
    return flatten([Line(start, upright), Line(upright, end)])


def _check_head(body: Body, style: ApronStyle) -> None:
    """Make sure that the loop passes the head; measured from strap to strap along the bib."""
    head, loop = measured_or_usual(body, "head"), style.long + style.broad - 2 * style.strap_width
    if loop < head:
        raise DraftError(
            f"loop and bib are {format_both(loop)} round, but the head is {format_both(head)}: make strap_length"
            f" {format_both(head - loop)} longer, or set neck to 'ties'",
            about="strap_length",
        )


def _mouth(style: ApronStyle) -> float:
    """How wide the mouth of the pocket is, mm; DraftError if there is no room for it."""
    high = style.length - style.bib_height - BELOW_WAIST - ABOVE_HEM - style.hem
    room = min(style.width - 2 * BESIDE, high / POCKET_DEPTH)
    mouth = min(POCKET, max(room, LEAST_POCKET)) if style.pocket_mouth is None else style.pocket_mouth
    if mouth > room + 1e-6:
        raise DraftError(
            f"a pocket with a mouth of {format_both(mouth)} finds no room on this apron: there is room for"
            f" {format_both(max(0.0, room))}; make the apron longer or wider, or leave the pocket out",
            about="pockets" if style.pocket_mouth is None else "pocket_mouth",
        )
    return mouth


def _place(style: ApronStyle, mouth: float) -> InnerLine:
    """Where the pocket is sewn on, in the middle."""
    top, half = style.bib_height + BELOW_WAIST, mouth / 2
    low = top + POCKET_DEPTH * mouth
    return InnerLine("line", ((top, 0.0), (top, half), (low, half), (low, 0.0)))


def _finished(body: Body, style: ApronStyle) -> Iterator[Finished]:
    yield Finished("length", style.length)
    yield Finished("width", style.width)
    yield Finished("round, with both ties", style.width + 2 * style.tie_length, _waist(body))
    if style.has_bib and style.neck == "loop":
        loop = style.long + style.broad - 2 * style.strap_width
        yield Finished("loop and bib", loop, measured_or_usual(body, "head"))


def _waist(body: Body) -> float | None:
    """The waist, where it is known."""
    return None if lacking(("waist",), body.measurements()) else measured_or_usual(body, "waist")


def _notes(body: Body, style: ApronStyle) -> Iterator[str]:
    """What is to be told: ties too short for a bow, a danger, and options that change nothing."""
    waist = _waist(body)
    free = None if waist is None else style.width + 2 * style.tie_length - waist
    if free is not None and free < 2 * BOW:
        yield (
            f"waist tie: {format_both(max(0.0, free) / 2)} of each is left for a bow, which takes about"
            f" {format_both(BOW)}: give more tie_length"
        )
    if style.has_bib and body.wearer == "children":
        yield CHILD
    if style.strap_width > WIDE_STRAP:
        yield wide_strap(style.strap_width)
    yield from idle_notes(
        style,
        (("bib_width", "strap_length", "armhole", "neck"), not style.has_bib, "there is no bib"),
        (("pocket_mouth",), style.pockets == "none", "no pocket is asked for"),
    )
    yield from tried_notes(body, "apron")


def trims(drafted: PieceSet, style: ApronStyle) -> tuple[TrimNeeded, ...]:
    """Thread by what is stitched, and a label."""
    return (*thread_for(_sewn(drafted)), TrimNeeded("label", ("upper edge",), count=1))


def _sewn(drafted: PieceSet) -> Iterator[Sewn]:
    for piece in drafted:
        half = sum(edge.length for edge in piece.edges if edge.name in HEMMED)
        if piece.name == "apron":
            yield Sewn("hems", 2 * half, 3, ("lockstitch",))
        elif piece.name == "patch pocket":
            around = sum(piece.edge(name).length for name in ("pocket side", "bottom", "mouth"))
            yield Sewn("pocket", 2 * around, 3, ("lockstitch",))
        else:
            yield strap_stitched(piece)


def steps(drafted: PieceSet, style: ApronStyle) -> tuple[SewingStep, ...]:
    """The steps of an apron in their order."""
    return tuple(steps_by("apron", _planned(drafted, style), neck=sewing_table("apron")["neck"][style.neck]))


def _planned(drafted: PieceSet, style: ApronStyle) -> Iterator[Planned]:
    patch = named(drafted, "patch pocket")
    neck = named(drafted, "neck strap", "neck tie")
    yield "pocket", (), (*patch, "apron") if patch else ()
    yield "ties", (), (*neck, "waist tie")
    side = "armholes" if style.armhole == "curved" else "armholes-straight"
    yield side, edges_named(drafted, ("apron", "armhole")), ()
    yield "bib", edges_named(drafted, ("apron", "bib")), neck
    yield "waist", edges_named(drafted, ("apron", "waist")), ()
    yield "sides", edges_named(drafted, ("apron", "side")), ("waist tie",)
    yield "hem", edges_named(drafted, ("apron", "hem")), ()
    yield "last", (), ("apron",)


APRON = Garment(
    "apron",
    "apron, with or without a bib",
    (),
    ApronStyle,
    draft,
    trims,
    steps,
    sketch="M36 30H64C64 48 70 56 84 58V114H16V58C30 56 36 48 36 30M38 30C34 4 66 4 62 30M84 59L98 68M16 59L2 68"
    "M32 70H68V90H32Z",
)
