"""Shapes in a job: what is read, what is refused, and what is bought for them."""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest

from pieces.units import INCH, YARD
from reports.ask.draft import draft_job
from reports.ask.job import Job, parse_job
from reports.ask.shape import KINDS, OWN, ShapeKind, ShapeTable
from reports.errors import JobError
from reports.plan.effort import Effort
from reports.plan.plan import plan_job

FIGURES = {"share": "0.5", "cut_as": '"square"', "gathers": "2", "pleats": '{ fold = "1 in", spacing = "2 in" }'}


def entry(kind: str, *more: str, name: str = "piece") -> str:
    """A shape of a kind with what it needs."""
    keys = (f"{key} = {FIGURES.get(key, chr(34) + '10 in' + chr(34))}" for key in KINDS[kind].needs)  # type: ignore[index]
    return "\n".join(("[[shape]]", f'name = "{name}"', f'kind = "{kind}"', *keys, *more, ""))


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind(kind: str) -> None:
    """Each kind is drafted from what it needs, without a garment; each of its keys may be missing from no other."""
    job = parse_job(entry(kind))
    assert (job.garment, job.title) == ("shapes", "Shapes")
    (piece,) = draft_job(job)
    assert piece.name == "piece"
    for key in KINDS[kind].needs:  # type: ignore[index]
        lacking = "\n".join(line for line in entry(kind).splitlines() if not line.startswith(f"{key} ="))
        with pytest.raises(JobError, match=rf"a {kind} needs .*: {key} is missing"):
            parse_job(lacking)
    for key in set(OWN) - {*KINDS[kind].needs, *KINDS[kind].may_have}:  # type: ignore[index]
        with pytest.raises(JobError, match=rf"a {kind} has no {key}: it has"):
            parse_job(entry(kind, f"{key} = {FIGURES.get(key, chr(34) + '10 in' + chr(34))}"))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('garment = "shapes"', r'garment = "shapes" needs shapes: add a \[\[shape\]\] entry'),
        (entry("circle") + '[body]\nbust = "36 in"', r"\[body\]: shapes have a fixed size: take the measurements out"),
        (entry("circle") + '[style]\nlength = "36 in"', r"\[style\] unknown key 'length'"),
        (entry("circle", "pair = true"), "a pair needs an even number, such as cut = 2"),
        (entry("rectangle", "gathers = 2", f"pleats = {FIGURES['pleats']}"), "has both gathers and pleats"),
        (entry("binding", 'grain = "across"'), "a binding is cut on the bias"),
        (entry("circle", 'material = "rib"'), r"\[\[shape\]\] number 1 material: write 'shell', 'lining' or"),
        (entry("circle", "gather = 2"), r"\[\[shape\]\] number 1: unknown key 'gather'"),
        (entry("circle", 'cut = "2"'), r"number 1 cut: write a whole number, without quotes, such as 2, not \"2\""),
        (entry("circle", 'seam = "2 m"'), r"'piece' is 10 in \(254 mm\) deep behind its edge edge, and seam is"),
        (entry("strip", 'edges = { top = "11 in" }'), r"deep behind its top edge, and top in edges is 11 in"),
        (entry("gore", 'edges = { side = "11 in" }'), r"deep behind its side edge, and side in edges is 11 in"),
        (entry("circle").replace("10 in", "0.01 mm"), r"'0.01 mm' is not a size of a shape: write a length from 1/16"),
        (entry("circle").replace("10 in", "101 m"), r"'101 m' is not a size of a shape"),
        (entry("rectangle", 'pleats = { fold = "0.01 mm", spacing = "1 in" }'), r"pleats fold: '0.01 mm' is not a"),
        ("garments = 6\n" + entry("circle", "cut = 1000"), r"6000 pieces are too many to lay at once: cut 5000 or"),
    ],
)
def test_refused(text: str, said: str) -> None:
    """What makes no sense is refused in one line that names it."""
    with pytest.raises(JobError, match=said) as raised:
        parse_job(text)
    assert "\n" not in str(raised.value)


def test_two_names_alike() -> None:
    """A shape may not be called as another piece."""
    with pytest.raises(Exception, match=r"two pieces are called 'piece': give the \[\[shape\]\] another name"):
        draft_job(parse_job(entry("circle") + entry("triangle")))


def test_beside_a_garment() -> None:
    """Shapes stand beside the pieces of a garment, and its notes and measures stay."""
    template = (files("reports") / "templates" / "job.toml").read_text(encoding="utf-8")
    plain = draft_job(parse_job(template))
    both = draft_job(parse_job(template + entry("strip", name="tie belt")))
    assert [piece.name for piece in both] == [*(piece.name for piece in plain), "tie belt"]
    assert (both.measures, both.notes, both.garment) == (plain.measures, plain.notes, plain.garment)


SKIRT = (
    entry("rectangle", name="skirt panel").replace('length = "10 in"', 'length = "49 in"').replace("10 in", "82 in")
    + 'seam = "0 in"\nedges = { side = "1/2 in", join = "1/2 in" }\n[[fabric]]\nname = "cotton"\nwidth = "45 in"\n'
    + 'selvedge = "1/2 in"\nspread = "open"\n'
)


def test_gathered_skirt() -> None:
    """82 in round, 49 in long, on 45 in: two panels, 98 in, to buy 2 3/4 yd (a published worked example: 98/36)."""
    plan = plan_job(parse_job(SKIRT), Effort())
    ((_, fabric),) = plan.markers
    assert fabric.result.marker.length == pytest.approx(98 * INCH)
    assert fabric.purchase.buy == pytest.approx(2.75 * YARD)
    (said,) = plan.remarks
    assert said == (
        "skirt panel: on cotton pieced of 2 parts, cut 2 of 49 in × 42 in, joined by 1 seam with allowances of 1/2 in"
    )


CIRCLE_SKIRT = """
[[shape]]
name = "skirt"
kind = "ring"
around = "28 in"
length = "24 in"
seam = "0 in"
edges = { join = "1/2 in" }
"""


@pytest.mark.parametrize(("width", "parts"), [("57 in", 1), ("45 in", 2)])
def test_circle_skirt(width: str, parts: int) -> None:
    """A circle skirt takes 2(r + L) = 56.9 in of cloth at least as wide; on 45 in it is pieced, and takes more."""
    cloth = f'[[fabric]]\nwidth = "{width}"\nselvedge = "0 in"\nspread = "open"\n'
    plan = plan_job(parse_job(CIRCLE_SKIRT + cloth), Effort())
    ((_, fabric),) = plan.markers
    marker = fabric.result.marker
    assert len(marker.placements) == parts
    assert (marker.length == pytest.approx(56.9 * INCH, abs=0.05 * INCH)) == (parts == 1)
    assert marker.length >= 56.85 * INCH


def test_template() -> None:
    """Every key of a shape stands in the template's comment, and what it says of defaults is so."""
    template = (files("reports") / "templates" / "job.toml").read_text(encoding="utf-8")
    lines = template[template.index("# [[shape]]") : template.index("[[fabric]]")].splitlines()[1:]
    shown = tomllib.loads("\n".join(line.removeprefix("# ") for line in lines))
    assert set(shown) == set(ShapeTable.model_fields)
    known = {"name": "x", "kind": "circle", "diameter": "1 in"}
    plain = ShapeTable.model_validate(known)
    for key in ("cut", "pair", "on_fold", "material", "seam"):
        assert ShapeTable.model_validate(known | {key: shown[key]}) == plain
    assert shown["grain"] == KINDS[shown["kind"]].grain


def test_order_has_none() -> None:
    """Shapes are a job's alone: an order refuses them by name."""
    from reports.ask.order.order import Order

    assert "shape" in Job.model_fields and "shape" not in Order.model_fields


@pytest.mark.parametrize("kind", ["gore", "triangle", "sector"])
def test_on_a_fold_the_grain_runs_along_it(kind: ShapeKind) -> None:
    """What is told across, and drawn as half on a fold, is refused in one line."""
    known = {"name": "a", "kind": kind, "on_fold": True, "grain": "across"}
    figures = {"length": "9 in", "width": "9 in", "top": "5 in", "bottom": "12 in", "around": "9 in", "share": 0.3}
    with pytest.raises(ValueError, match="its grain runs along it, not across"):
        ShapeTable.model_validate(known | {key: figures[key] for key in KINDS[kind].needs})


def test_the_hole_of_a_ring_is_told() -> None:
    """Nothing is laid in it, so what is proved is proved with the hole as cloth of the piece: that is said."""
    ring = '[[shape]]\nname = "flounce"\nkind = "ring"\naround = "30 in"\nlength = "3 in"\n'
    job = parse_job(f'{ring}[[fabric]]\nwidth = "45 in"\nspread = "open"\n')
    remarks = plan_job(job, Effort(0)).remarks
    assert any(remark.startswith("flounce: no piece is laid in its hole") for remark in remarks)


def test_a_strap_may_be_narrower_than_its_seams() -> None:
    """An inch of allowance is taken on a shape however narrow; more only where it is as deep."""
    narrow = entry("strip", 'seam = "1 in"').replace('width = "10 in"', 'width = "1/4 in"')
    (piece,) = draft_job(parse_job(narrow))
    assert piece.length == pytest.approx(2.25 * INCH)
    with pytest.raises(JobError, match="deep behind its top edge"):
        parse_job(narrow.replace('"1 in"', '"1 1/8 in"'))
