"""Whether the pieces fit on a remnant: the answer for machines; every length in mm."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from nesting.problem.outline import polygon_area
from reports.fit.ways import way_out_lines
from reports.fit.words import fits_lines, waste, why_not
from reports.plan.plain import layout_to_plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from nesting.fit.fitting import Fitting, Tried
    from pieces.units import Units
    from reports.fit.lay import FitLay
    from reports.fit.remnant import RemnantTask
    from reports.fit.ways import TriedWayOut


FITS_SCHEMA = 4
"""Of the answer; 3 had no ``lay``, 2 had no ``ways_out``, 1 neither ``units`` nor ``seed``."""


def fits_to_plain(fitting: Fitting, task: RemnantTask, ways: Sequence[TriedWayOut] = ()) -> dict[str, Any]:
    """The answer: what `fits --json` prints."""
    remnant, found, job = fitting.remnant, fitting.layout, task.job
    nearest = found or fitting.nearest
    marker = nearest.result.marker if nearest and nearest.result else None
    return {
        "schema": FITS_SCHEMA,
        "job": job.name,
        "units": job.units,
        "seed": fitting.seed,
        "unit": "mm",
        "cloth": task.cloth.name if task.cloth else None,
        "pieces": [piece.name for piece in task.pieces],
        "answer": fitting.answer,
        "lay": _lay_to_plain(fitting, task.lay) if task.lay else None,
        "remnant": {
            "width": remnant.width,
            "length": remnant.length,
            "selvedge": remnant.selvedge,
            "selvedge_given": task.selvedge_given,
            "nap": remnant.nap,
            "gap": remnant.gap,
            "cut_outs": [zone._asdict() for zone in remnant.cut_outs],
            "usable_mm2": remnant.usable,
        },
        "seconds": round(fitting.seconds, 3),
        "left_over_mm": remnant.length - marker.length if found and marker else None,
        "waste_percent": 100 * waste(fitting, marker) if marker else None,
        "needed_mm": marker.length if marker else None,
        "tried": [_tried_to_plain(tried, fitting, task.units) for tried in fitting.tried],
        "layout": _layout(found) if found else None,
        "ways_out": [_way_to_plain(one, task) for one in ways],
        "words": [*fits_lines(fitting, task), *way_out_lines(ways, task)],
    }


def _lay_to_plain(fitting: Fitting, lay: FitLay) -> dict[str, Any]:
    """The lay that is asked about; lengths in mm."""
    return {
        "ticket": lay.facts.ticket,
        "plies": lay.facts.number,
        "ply_mm": lay.ply,
        "table_mm": lay.table,
        "as_it_lies": bool(fitting.layout and fitting.layout.known),
        "gives_plies": lay.plies_on(fitting),
    }


def _tried_to_plain(tried: Tried, fitting: Fitting, units: Units) -> dict[str, Any]:
    length, result = fitting.remnant.length, tried.result
    ruled_out = tried.disproof is not None or tried.refused is not None
    return {
        "spread": tried.way.spread,
        "turned": tried.way.turned,
        "answer": "yes" if tried is fitting.layout else "no" if ruled_out else "not found" if result else "not tried",
        "proof": tried.disproof.kind if tried.disproof else None,
        "bound_mm": tried.disproof.needs if tried.disproof and tried.disproof.kind in ("piece", "length") else None,
        "reason": why_not(tried, fitting, units) if ruled_out else None,
        "marker_mm": result.marker.length if result else None,
        "over_mm": result.marker.length - length if result else None,
        "effort": round(result.work, 3) if result else None,
    }


def _layout(found: Tried) -> dict[str, Any] | None:
    if found.result is None:
        return None
    marker = found.result.marker
    faults = [outline.tolist() for outline in marker.problem.faults]
    return {"spread": found.way.spread, "turned": found.way.turned, "cut_outs": faults, **layout_to_plain(marker)}


def _way_to_plain(tried: TriedWayOut, task: RemnantTask) -> dict[str, Any]:
    """A way out for machines; lengths in mm."""
    fitting = tried.fitting
    nearest = (fitting.layout or fitting.nearest) if fitting else None
    return {
        "kind": tried.way.kind,
        "change": tried.way.name,
        "answer": tried.answer,
        "refused": tried.refused,
        "marker_mm": nearest.result.marker.length if nearest and nearest.result else None,
        "other_cloth": [
            {
                "piece": piece.name,
                "cut": piece.cut * task.garments,
                "length_mm": piece.length,
                "width_mm": piece.width,
                "area_mm2": piece.cut * task.garments * polygon_area(piece.unfolded),
            }
            for piece in tried.way.elsewhere
        ],
        "layout": _layout(fitting.layout) if fitting and fitting.layout else None,
    }
