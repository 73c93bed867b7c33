"""Whatever is given to the faces, a caller hears one clear error of the project, never a raw one of Python.

A table: each function of the faces with a call that is right. Each argument is exchanged for things that are wrong.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

import nesting
import pieces
import reports
from nesting import Fabric, MaxIterations, MaxRuntime, MaxWork, NestingError, check, lay_pieces, solve, sweep
from pieces import GARMENTS, Body, Length, Piece, PieceError, PieceSet, cm, inches, mm
from reports import Effort, ReportError, best_of, parse_job, plan_job, read_job
from tests.make.model import MODEL

if TYPE_CHECKING:
    from collections.abc import Callable

OURS = (PieceError, NestingError, ReportError)
JACKET = GARMENTS["rib-jacket"]
SIZES: dict[str, Any] = {
    "bust": "37 in", "hip": "39 1/2 in", "across_shoulder": "15 1/2 in", "neck": "14 in", "upper_arm": "12 in",
    "wrist": "7 1/4 in", "arm_length": "22 3/4 in",
}  # fmt: skip
CORNERS = [(0, 0), (10, 0), (10, 10), (0, 10)]
TILE = Piece.from_polygon(CORNERS, "tile", unit="cm")
CANVAS = Fabric("canvas", width="60 in")
PROBLEM = lay_pieces([TILE], CANVAS, "open")
RESULT = solve(PROBLEM, MaxIterations(1))
JOB = parse_job(MODEL)


def few() -> MaxIterations:
    """A short search."""
    return MaxIterations(1)


CALLS: dict[str, tuple[Callable[..., Any], dict[str, Any]]] = {
    "Body": (Body, SIZES | {"wearer": "women", "armhole_depth": None}),
    "Body.remarks": (Body(**SIZES).remarks, {"units": "in"}),
    "Effort": (
        Effort, {"amount": 0, "seconds": None, "seed": 0, "workers": 1, "proof": None, "interrupt": None},
    ),
    "Fabric": (
        Fabric,
        {
            "name": "canvas", "width": "60 in", "selvedge": "0 in", "nap": False, "gap": "0 in",
            "repeat_along": "0 in", "repeat_across": "0 in", "shrinkage": (0.0, 0.0),
        },
    ),
    "Fabric.heads": (CANVAS.heads, {"garments": 1, "before": 0}),
    "Job.with_cloth": (JOB.with_cloth, {"number": 1}),
    "Length": (lambda mm: Length(mm), {"mm": 1}),
    "MaxIterations": (MaxIterations, {"iterations": 1}),
    "MaxRuntime": (MaxRuntime, {"seconds": 1}),
    "MaxWork": (MaxWork, {"effort": 1}),
    "Piece": (
        Piece,
        {
            "name": "tile", "edges": TILE.edges, "cut": 1, "mirrored_pair": False, "material": "shell",
            "grain": ((0.0, 0.0), (1.0, 0.0)), "notches": (), "drill_points": (), "label": "", "lies": "straight",
            "tilt": 0.0, "match": None, "inner": (),
        },
    ),
    "Piece.from_polygon": (
        Piece.from_polygon,
        {"points": CORNERS, "name": "tile", "unit": "cm", "seam": None, "cut": None, "grain": "x", "tilt": 0.0},
    ),
    "PieceSet": (PieceSet, {"garment": "bag", "pieces": (TILE,), "seams": (), "measures": {}, "notes": ()}),
    "PieceSet.of": (PieceSet("bag", (TILE,)).of, {"material": "shell"}),
    "Result.summary": (RESULT.summary, {"units": "in"}),
    "best_of": (best_of, {"plan": None}),
    "check": (check, {"marker": RESULT.marker}),
    "cm": (cm, {"number": 1}),
    "draft": (JACKET.draft, {"body": Body(**SIZES), "style": JACKET.style()}),
    "inches": (inches, {"number": 1}),
    "lay_pieces": (
        lay_pieces,
        {"pieces": [TILE], "fabric": CANVAS, "spread": "open", "garments": 1, "waste_twins": False, "plies": 2},
    ),
    "lay_pieces, a stack": (lay_pieces, {"pieces": [TILE], "fabric": CANVAS, "spread": "face-up", "plies": 4}),
    "lay_pieces, folded in part": (
        lay_pieces,
        {"pieces": [TILE], "fabric": CANVAS, "spread": "part-folded", "depth": "20 in", "waste_twins": True},
    ),
    "mm": (mm, {"number": 1}),
    "parse_job": (parse_job, {"text": MODEL, "name": "job", "folder": Path()}),
    "plan_job": (plan_job, {"job": JOB, "effort": Effort(0), "rib": False, "before": None}),
    "read_job": (read_job, {"path": "no such file.toml"}),
    "solve": (
        solve,
        {
            "problem": PROBLEM, "stop": MaxIterations(1), "seed": 0, "listener": None, "workers": 1, "initial": None,
            "executor": None, "aims": None,
        },
    ),
    "style": (
        JACKET.style,
        {"length": "26 in", "sleeve": None, "closure": "buttons", "cuff_share": 0.75, "band_rule": "subtract"},
    ),
    "sweep": (
        sweep,
        {
            "pieces": [TILE], "fabrics": CANVAS, "spreads": "open", "stop": few, "widths": [], "gaps": [],
            "seeds": (0,), "garments": 1, "workers": 1,
        },
    ),
}  # fmt: skip
"""Each function with arguments that are right."""

NOT_CALLED = {
    "pieces": {"GARMENTS", "PieceError", "Units"},
    "nesting": {"Listener", "NestingError", "Result"},
    "reports": {"FabricPlan", "Job", "Plan", "Refusal", "ReportError"},
}
"""Names of the faces that are given out, or only derived from."""

WRONG = [
    None, True, 5, -1, 2.5, float("nan"), float("inf"), "text", "", b"bytes", [], [None], [3], [[1, 2], [3]], {"a": 1},
    object(), Fabric, TILE, CANVAS, PROBLEM, lambda: 1, (1, 2), np.zeros(3), np.zeros((2, 2, 2)), iter("ab"), 1j,
]  # fmt: skip


def test_the_table_is_whole() -> None:
    """Every name of the faces is called, or listed as one that is not."""
    for face in (pieces, nesting, reports):
        called = {call.split(",")[0].split(".")[0] for call in CALLS}
        assert set(face.__all__) <= called | NOT_CALLED[face.__name__], face.__name__


@pytest.mark.parametrize(("call", "argument"), [(call, name) for call, (_, right) in CALLS.items() for name in right])
def test_only_errors_of_ours(call: str, argument: str) -> None:
    """An argument of the wrong kind is refused in one line that says something, or is taken for what it is."""
    function, right = CALLS[call]
    refused = 0
    for wrong in WRONG:
        try:
            function(**right | {argument: wrong})
        except OURS as error:
            refused += 1
            assert "\n" not in str(error) and len(str(error)) > 20, error
    assert refused > len(WRONG) / 2


@pytest.mark.parametrize(
    ("call", "argument", "wrong", "said"),
    [
        ("Body.remarks", "units", "mm", "units must be \"in\" or \"cm\", not the text 'mm'"),
        ("Effort", "seconds", -1, "the seconds of an Effort must be 0 or more, not -1"),
        ("Effort", "seconds", float("nan"), "the seconds of an Effort must be 0 or more, not nan"),
        ("Effort", "workers", 0, "the workers of an Effort must be 1 or more, not 0"),
        ("Fabric.heads", "garments", "one", "the garments of heads must be a whole number, not the text 'one'"),
        ("Job.with_cloth", "number", "one", "the number of a cloth must be a whole number, not the text 'one'"),
        ("lay_pieces", "depth", "5 in", "cloth laid open has no depth of a fold: leave depth out, or lay it"),
        ("lay_pieces", "garments", 10**9, "the garments of lay_pieces must be 1 to 1000 on one marker, not 1000000000"),
        ("lay_pieces", "plies", 4, "cloth laid open is not a stack: leave plies out, or lay it face-to-face"),
        ("lay_pieces, a stack", "plies", 10**9, "a stack has 1000 plies at most, not 1000000000: lay several"),
        ("lay_pieces, folded in part", "depth", "30 in", "'canvas' folded in part needs a fold_depth of more"),
        ("read_job", "path", "a\0b", "cannot read 'a\\x00b': embedded null byte"),
        ("sweep", "garments", -1, "the garments of a sweep must be 1 to 1000 on one marker, not -1"),
        ("sweep", "spreads", ["open", "bias"], "a spread of a sweep must be one of open, folded, double-folded, "),
        ("sweep", "widths", "60 in", "the widths of a sweep must be a list of lengths, not the text '60 in'"),
        ("Fabric", "width", 60, "cannot read the width of 'canvas', '60': a bare number has no unit: write \"60 in\""),
        ("Fabric", "name", 3, "the name of a Fabric must be text, not the number 3"),
        ("Fabric", "nap", "yes", "the nap of 'canvas' must be True, False or \"by garment\", not the text 'yes'"),
        ("lay_pieces", "pieces", TILE, "the pieces of lay_pieces must be a list of pieces, not a Piece"),
        ("lay_pieces", "pieces", [TILE, "x"], "the pieces of lay_pieces must be pieces, but number 2 is the text 'x'"),
        ("lay_pieces", "fabric", "canvas", "the fabric of lay_pieces must be a Fabric, such as Fabric(\"canvas\", "),
        ("lay_pieces", "garments", 2.5, "the garments of lay_pieces must be a whole number, not the number 2.5"),
        ("solve", "problem", [TILE], "the problem of solve must be a Problem, such as lay_pieces makes, not a list"),
        ("solve", "stop", 60, "the stop must be a function of the best length so far, such as MaxRuntime(60), not"),
        ("solve", "seed", "a", "the seed of solve must be a whole number, not the text 'a'"),
        ("check", "marker", RESULT, "the marker of check must be a Marker, such as result.marker, not a Result"),
        ("plan_job", "job", "job.toml", "the job of plan_job must be a Job, such as read_job gives, not the text"),
        ("Body", "wearer", "dogs", "a wearer must be one of women, men, children, not the text 'dogs'"),
        ("style", "closure", "snaps", "closure must be one of buttons, zip, none, not the text 'snaps'"),
        ("Piece.from_polygon", "points", "oval", "the points of 'tile' must be pairs of numbers, not the text 'oval'"),
        ("mm", "number", 10**400, "mm() must be a number, not one of hundreds of digits"),
    ],
)  # fmt: skip
def test_what_is_said(call: str, argument: str, wrong: Any, said: str) -> None:
    """The error names the argument, what it needs, and what it got."""
    function, right = CALLS[call]
    with pytest.raises(OURS) as found:
        function(**right | {argument: wrong})
    assert str(found.value).startswith(said)
