"""Lots: which cloths share their markers, and what these give, ply by ply."""

from __future__ import annotations

import pytest

from nesting.errors import SpreadError, WrongMarkerError
from nesting.search.solver import solve
from nesting.search.stop import MaxIterations
from reports.ask.order.order import RunFabric
from reports.errors import JobError
from reports.run.garments import draft_all
from reports.run.lots import ALIKE, Lot, _refuse_one_handed, lots_of
from tests.make.forging import patch, sleeve, tab
from tests.make.orders import ordered


def cloth(spread: str) -> RunFabric:
    """Cloth spread in one way."""
    return RunFabric.model_validate({"width": "40 in", "spread": spread})


def test_face_to_face_gives_mirror_images() -> None:
    """Of plies face to face each second one gives mirror images: pairs and tabs may lie so, a patch may not."""
    for spread, is_refused in (("face-up", False), ("face-to-face", True)):
        lot = Lot("shell", {"rust": cloth(spread)}, {"M": (sleeve(), tab(), patch())})
        marker = solve(lot.problem((1,)), MaxIterations(0)).marker
        if is_refused:
            with pytest.raises(
                WrongMarkerError, match="'patch' is cut 1 as drafted and 1 as its mirror image, needed 2"
            ):
                lot.verify(marker, (1,))
        else:
            lot.verify(marker, (1,))
    _refuse_one_handed(cloth("face-to-face"), {"M": (sleeve(), tab())})
    with pytest.raises(SpreadError, match=r"'patch' is neither a pair nor symmetric.*spread the plies face-up"):
        _refuse_one_handed(cloth("face-to-face"), {"M": (sleeve(), patch())})


def test_sizes_are_counted_apart() -> None:
    """A marker of an M and an L is none of two M."""
    lot = Lot("shell", {"rust": cloth("folded")}, {s: (sleeve(name=f"sleeve {s}"),) for s in ("M", "L")})
    marker = solve(lot.problem((1, 1)), MaxIterations(0)).marker
    lot.verify(marker, (1, 1))
    with pytest.raises(WrongMarkerError, match="but was not asked for"):
        lot.verify(marker, (2, 0))


OTHERWISE: dict[str, object] = {
    "width": "50 in",
    "selvedge": "1 in",
    "spread": "face-up",
    "nap": True,
    "tilt": 2.0,
    "lies": {"sleeve": "cross"},
    "gap": "4 mm",
    "repeat_along": "3 in",
    "repeat_across": "3 in",
    "border": "2 in",
    "border_edges": ["hem"],
    "shrinkage": 2.0,
    "shrinkage_across": 2.0,
    "washed": "after",
    "waste_twins": True,
    "end_allowance": "3 in",
}
"""Of a cloth 60 in wide that lies folded, each fact said otherwise."""


@pytest.mark.parametrize("fact", [None, *OTHERWISE])
def test_cloths_that_are_laid_alike_share_markers(fact: str | None) -> None:
    """Two colours of one cloth are one lot; two that differ in any fact of the laying are two."""
    plain: dict[str, object] = {"width": "60 in", "selvedge": "0.5 in", "spread": "folded"}
    other = plain | ({fact: OTHERWISE[fact]} if fact else {})
    if fact in ("border", "border_edges"):  # neither without the other; and on open cloth alone
        plain = plain | {"border": "3 in", "border_edges": ["wrist"], "spread": "face-up"}
        other = plain | {fact: OTHERWISE[fact]}
    if fact == "washed":  # which changes nothing where nothing shrinks
        plain, other = plain | {"shrinkage": 2.0}, other | {"shrinkage": 2.0}
    cloths = tuple(
        RunFabric.model_validate(facts | {"name": name, "colour": name})
        for name, facts in (("rust", plain), ("navy", other))
    )
    order = ordered().model_copy(update={"fabric": cloths})
    lots = list(lots_of(order, draft_all(order)))
    assert [tuple(lot.cloths) for lot in lots] == ([("rust", "navy")] if fact is None else [("rust",), ("navy",)])


def test_every_fact_of_the_laying_is_tried() -> None:
    """No fact is left out above but material and pieces, which make another part of the garment."""
    assert set(ALIKE) == set(OTHERWISE) | {"material", "pieces"}


def test_a_knit_is_refused_on_a_border() -> None:
    """A run refuses what one job refuses: a T-shirt's stretch would run up and down the body."""
    order = ordered(
        ("^garment = .*$", 'garment = "t-shirt"'), ('^length = "25 in"\nsleeve = "23 in"\nclosure = "zip"', "")
    )
    cloth = order.fabric[0].model_copy(update={"border": 50.0, "border_edges": ("hem",)})
    order = order.model_copy(update={"fabric": (cloth,), "rib": ()})
    with pytest.raises(JobError, match="lies across the cloth, and a knit's stretch must run round the body"):
        list(lots_of(order, draft_all(order)))
