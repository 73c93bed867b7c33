"""Which of the cloths on hand will do, for machines; every length in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from reports.which.words import item_words, reason, which_lines

if TYPE_CHECKING:
    from reports.which.which import ClothTried, WhichFound

WHICH_SCHEMA = 1


def which_to_plain(found: WhichFound) -> dict[str, Any]:
    """The answer: what `which --json` prints."""
    return {
        "schema": WHICH_SCHEMA,
        "job": found.job.name,
        "units": found.job.units,
        "seed": found.seed,
        "unit": "mm",
        "cloth": found.base.name if found.base else None,
        "best": found.best.item.label if found.best else None,
        "seconds": round(found.seconds, 3),
        "cloths": [_cloth(one, found) for one in found.tried],
        "words": list(which_lines(found)),
    }


def _cloth(one: ClothTried, found: WhichFound) -> dict[str, Any]:
    item, marker, fitting = one.item, one.marker, one.fitting
    proofs = [tried.disproof.kind for tried in fitting.tried if tried.disproof] if fitting else []
    return {
        "item": item.label,
        "number": item.number,
        "name": item.name,
        "colour": item.colour,
        "lot": item.lot,
        "width_mm": item.width,
        "left_mm": float(item.left),
        "about": item_words(item),
        "laid_as": one.like.name if one.like else None,
        "answer": one.answer,
        "proof": proofs[0] if proofs and one.answer == "no" else None,
        "reason": reason(one, found),
        "needed_mm": marker.length if marker else None,
        "left_over_mm": float(item.left) - marker.length if marker else None,
    }
