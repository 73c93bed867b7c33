"""All garments, or one of them with a draft in a middle size: what is told of them for machines and drawn."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, get_args, get_type_hints

from pieces.body.measures import MEASURES
from pieces.body.rules import RULES, to_measure
from pieces.errors import PieceError
from pieces.garments.groups import group_of, label_of
from pieces.garments.known import find_garment, known_garments, maker_of
from reports.ask.template import SIZE, TABLE, example_body
from reports.draw.kit.files import PICTURES

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from pieces import PieceSet
    from pieces.garments import Garment
    from pieces.garments.known import NotLoaded

GARMENTS_SCHEMA = 1


@dataclass(frozen=True)
class GarmentShown:
    """A garment, drafted for a middle size with its defaults; or why that cannot be drafted."""

    garment: Garment
    pieces: PieceSet | None = None
    refused: str = ""

    @classmethod
    def called(cls, name: str) -> GarmentShown:
        """The garment of a name; GarmentError if there is none."""
        garment = find_garment(name)
        try:
            return cls(garment, garment.draft(example_body(garment), garment.style()))
        except PieceError as error:
            return cls(garment, refused=str(error))


def garment_to_plain(garment: Garment) -> dict[str, Any]:
    """A garment for machines: what it needs, and its options; lengths in mm."""
    hints = get_type_hints(garment.style)
    return {
        "name": garment.name,
        "title": garment.title,
        "package": maker_of(garment.name),
        "measurements": list(garment.measurements),
        "asked": list(garment.asked),
        "to_measure": list(to_measure(garment.measurements)),
        "sketch": garment.sketch,
        "options": [
            {
                "name": option.name,
                "label": label_of(option.name),
                "group": group_of(option.name),
                "kind": option.metadata["kind"],
                "default": option.default,
                "choices": list(get_args(hints[option.name])) if option.metadata["kind"] == "choice" else [],
                "help": option.metadata["help"],
                "example": option.metadata["example"],
            }
            for option in garment.options()
        ],
    }


def garments_to_plain() -> dict[str, Any]:
    """All garments for machines, and those that could not be loaded."""
    known, not_loaded = known_garments()
    return {
        "schema": GARMENTS_SCHEMA,
        "garments": [garment_to_plain(garment) for garment in known],
        "not_loaded": [each._asdict() for each in not_loaded],
    }


def shown_to_plain(shown: GarmentShown) -> dict[str, Any]:
    """One garment for machines, with how each measurement is taken; finished sizes in mm."""
    finished = shown.pieces.finished if shown.pieces else ()
    return {
        "schema": GARMENTS_SCHEMA,
        "garment": garment_to_plain(shown.garment),
        "measures": {
            name: {"how": MEASURES[name].how, "left_out": RULES[name].words if name in RULES else None}
            for name in shown.garment.asked
        },
        "drafted_for": {"table": TABLE, "size": SIZE},
        "finished": [{"name": size.name, "garment": size.garment, "body": size.body} for size in finished],
        "refused": shown.refused,
    }


def garment_files(folder: Path, name: str = "garments") -> list[Path]:
    """The picture of all garments, or of one, in each form."""
    return [folder / f"{name}.{kind}" for kind in PICTURES]


def write_garments(garments: Sequence[Garment], paths: Sequence[Path]) -> None:
    """Draw the sketches of garments with their names."""
    from reports.draw.garments import garments_page
    from reports.draw.kit.files import save

    figure = garments_page(garments)
    for path in paths:
        save(figure, path)


def not_loaded_lines(not_loaded: Sequence[NotLoaded]) -> list[str]:
    """A line for each garment by others that cannot be had."""
    return [f"not loaded: {each.name}, of the package {each.package}: {each.reason}" for each in not_loaded]
