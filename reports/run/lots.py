"""Lots: the cloths of an order that are laid alike, one for each colour, and the garments cut of them together."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import TYPE_CHECKING

from nesting.errors import NestingError, SpreadError
from nesting.problem.lay import lay_mix, lay_pieces
from nesting.verify import Asked, LaidMarker, verify_asked
from reports.errors import JobError
from reports.plan.border import refuse_knit
from reports.plan.problems import cut_from

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from nesting.marker.marker import Marker
    from nesting.problem.problem import Problem
    from pieces import Piece
    from reports.ask.order.order import Order, RunFabric
    from reports.run.garments import Garments

ALIKE = (
    "material", "pieces", "width", "selvedge", "spread", "nap", "tilt", "lies", "gap", "repeat_along", "repeat_across",
    "border", "border_edges", "shrinkage", "shrinkage_across", "washed", "waste_twins", "end_allowance",
)  # fmt: skip
"""What two cloths must have in common for one marker to serve both."""


USUAL_DENSITY = 0.8
"""Share of the cloth that becomes pieces before anything is laid: good to very good (facts of the textbook by
Vilumsone-Nemes, Industrial Cutting of Textile Materials, p. 19: 70 to 85 %)."""


@dataclass(frozen=True, eq=False)
class Lot:
    """Cloths that are laid alike.

    Parameters
    ----------
    part
        What of the garment they are for.
    cloths
        By colour of the garment; a cloth for garments of all colours stands under its own name.
    pieces
        By size, as they are cut, each with its size in its name.
    stands_for
        For each cloth, the colours of garments that it is cut for.
    """

    part: str
    cloths: Mapping[str, RunFabric]
    pieces: Mapping[str, tuple[Piece, ...]]
    stands_for: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def cloth(self) -> RunFabric:
        """One of the cloths: they are laid alike."""
        return next(iter(self.cloths.values()))

    def problem(self, mix: tuple[int, ...]) -> Problem:
        """The layout problem of so many garments of each size, in their order."""
        sets = [(pieces, number) for pieces, number in zip(self.pieces.values(), mix, strict=True) if number]
        cloth = self.cloth
        return lay_mix(sets, cloth.fabric(), cloth.laid, waste_twins=cloth.waste_twins)

    def verify(self, marker: Marker, mix: tuple[int, ...]) -> None:
        """Make sure that a marker gives so many garments of each size; WrongMarkerError if it does not.

        Of plies face to face each second one gives the mirror image: two of them together give twice as many.
        """
        verify_asked(marker, self.asked(mix))
        if self.cloth.spread == "face-to-face":
            verify_asked(LaidMarker.of(marker).bare, self.asked_of_two(mix))

    def asked(self, mix: tuple[int, ...], cloth: RunFabric | None = None) -> Asked:
        """What one ply has to give, of the lot's cloths or of one of them."""
        cloth = cloth or self.cloth
        sets = tuple((pieces, number) for pieces, number in zip(self.pieces.values(), mix, strict=True) if number)
        return Asked(sets, cloth.fabric(), cloth.laid, cloth.waste_twins)

    def asked_of_two(self, mix: tuple[int, ...]) -> Asked:
        """What two plies face to face have to give together."""
        twice = tuple((pieces, 2 * number) for pieces, number in self.asked(mix).sets)
        return Asked(twice, self.cloth.fabric(), self.cloth.spread)

    @cached_property
    def width(self) -> float:
        """Width of cloth that pieces may lie on, mm, over all layers of a ply."""
        return self.problem(tuple(int(i == 0) for i in range(len(self.pieces)))).cloth_width

    def expected(self, size: str) -> float:
        """Length of cloth that a garment may take, mm, before anything is laid."""
        return self.area(size) / (self.width * USUAL_DENSITY)

    def area(self, size: str) -> float:
        """Area of all pieces of one garment, mm²."""
        from nesting.problem.outline import polygon_area

        return sum(polygon_area(piece.unfolded) * piece.cut for piece in self.pieces[size])


def lots_of(order: Order, garments: Garments) -> Iterator[Lot]:
    """The lots of an order, the shell's first.

    Raises
    ------
    JobError
        If a colour has no cloth for the shell, or two for one part.
    NestingError
        If a garment does not go on a cloth, even alone.
    """
    groups: dict[tuple[object, ...], dict[str, RunFabric]] = {}
    for cloth in order.fabric:
        if cloth.colour is not None and cloth.colour not in garments.colours:
            continue
        key = tuple(getattr(cloth, name) for name in ALIKE)
        colour = cloth.colour or cloth.name
        if colour in groups.setdefault(key, {}):
            raise JobError(f"{order.name}: two [[fabric]] entries are for {cloth.part}, {colour}: leave one out")
        groups[key][colour] = cloth
    lots = [_lot(order, garments, cloths) for cloths in groups.values()]
    _check_colours(order, garments, lots)
    yield from sorted(lots, key=lambda lot: lot.cloth.material != "shell")


def _lot(order: Order, garments: Garments, cloths: Mapping[str, RunFabric]) -> Lot:
    one = next(iter(cloths.values()))
    refuse_knit(one, order, garments.sizes[0].pieces)
    pieces = {
        size.name: tuple(replace(p, name=f"{p.name} {size.name}") for p in cut_from(one, order, size.pieces))
        for size in garments.sizes
    }
    stands_for = {key: (cloth.colour,) if cloth.colour else garments.colours for key, cloth in cloths.items()}
    lot = Lot(one.part, cloths, pieces, stands_for)
    for i, size in enumerate(garments.sizes):
        try:
            lot.problem(tuple(int(k == i) for k in range(len(garments.sizes))))
        except NestingError as error:
            raise NestingError(f"size {size.name}: {error}") from error
    if one.spread == "face-to-face":
        _refuse_one_handed(one, pieces)
    return lot


def _refuse_one_handed(cloth: RunFabric, pieces: Mapping[str, tuple[Piece, ...]]) -> None:
    """Refuse pieces of which every second ply face to face would give the mirror image; SpreadError names the first."""
    for of_size in pieces.values():
        for piece in of_size:
            if not piece.mirrored_pair:
                try:
                    lay_pieces([piece], cloth.fabric(), "face-to-face", garments=2)
                except SpreadError as error:
                    raise SpreadError(
                        f"'{piece.name}' is neither a pair nor symmetric, and every second ply face to face gives its "
                        "mirror image: spread the plies face-up"
                    ) from error


def _check_colours(order: Order, garments: Garments, lots: list[Lot]) -> None:
    """Each colour is cut of exactly one cloth for each part of the garment."""
    for colour in garments.colours:
        parts: dict[str, str] = {}
        materials = set()
        for lot in lots:
            for key, cloth in lot.cloths.items():
                if colour in lot.stands_for[key]:
                    if lot.part in parts:
                        raise JobError(
                            f"{order.name}: {colour} garments have two cloths for {lot.part}, '{parts[lot.part]}' and"
                            f" '{cloth.name}': leave one out, or give each its colour"
                        )
                    parts[lot.part] = cloth.name
                    materials.add(cloth.material)
        if "shell" not in materials:
            raise JobError(f'{order.name}: {colour} has no cloth: add a [[fabric]] entry with colour = "{colour}"')
