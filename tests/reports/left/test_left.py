"""What is left of the cloth bought: its length, its layers, its size as bought; and another job's pieces."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest
import shapely

from pieces import Piece, PieceSet
from pieces.exchange.own.plain import to_plain
from pieces.units import INCH
from reports.ask.job import parse_job
from reports.left.left import LeftAsked, what_is_left
from reports.left.plain import left_to_plain
from reports.left.words import left_cells, left_lines
from reports.plan.effort import Effort
from tests.make.model import MODEL, edited, with_fabrics

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.left.left import Left
    from tests.reports.conftest import Ran

FIRST = Effort(amount=0)
"""First layouts only."""

EACH_SPREAD = {
    "folded": 'width = "60 in"\nselvedge = "1/2 in"',
    "open": 'width = "60 in"\nselvedge = "1/2 in"\nspread = "open"',
    "tube": 'opened = "68 in"\nspread = "tube"',
    "double-folded": 'width = "102 in"\nselvedge = "1/2 in"\nspread = "double-folded"',
    "crosswise": 'width = "60 in"\nselvedge = "1/2 in"\nspread = "crosswise"',
    "face-to-face": 'width = "60 in"\nselvedge = "1/2 in"\nspread = "face-to-face"',
}


def left(job: str, *, strip: float | None = None, bias: float | None = None) -> Left:
    """What is left of a job's only cloth."""
    return what_is_left(LeftAsked(parse_job(job), 3, strip, bias), FIRST)


@pytest.mark.parametrize("spread", EACH_SPREAD)
def test_layers_of_each_spread(spread: str) -> None:
    """Each rectangle says in how many layers it lies; by hand: one open, two folded or stacked, each layer the same."""
    job = with_fabrics(f'gap = "1/4 in"\n{EACH_SPREAD[spread]}').replace('back = "fold"', 'back = "seam"')
    found = left(job, strip=2 * INCH)
    assert found.spread == spread and found.rectangles and found.strips
    layers = 1 if spread == "open" else 2
    assert {one.layers for one in (*found.rectangles, *found.strips)} == {layers}
    told = {line[5] for line in left_cells(found)[1:] if "both" in line or "one" in line}
    assert told <= {"one" if layers == 1 else "both"}
    shapes = [shapely.Polygon(outline) for *_, outline in found.marker.outlines()]
    for one in found.rectangles:
        box = shapely.box(*one.zone.outline[0], *one.zone.outline[2])
        assert min(box.distance(shape) for shape in shapes) >= INCH / 4 - 1e-3
        assert 0 <= one.zone.start < one.zone.end <= found.length + 1e-6
        assert (one.zone.start * 8 / INCH) == pytest.approx(round(one.zone.start * 8 / INCH))


def test_length_and_size_as_bought() -> None:
    """Cloth that shrinks by 10 and 5 % before it is cut: 0.9 of what is bought, ends off; sizes as bought beside."""
    shrinks = 'shrinkage = 10\nshrinkage_across = 5\nend_allowance = "1/2 in"'
    found = left(with_fabrics(f'width = "64 in"\nselvedge = "1/2 in"\n{shrinks}'))
    bought = found.plan.purchase.buy
    assert found.length == pytest.approx(bought * 0.9 - INCH)
    assert found.bought == pytest.approx((1 / 0.9, 1 / 0.95))
    plain = left_to_plain(found)
    first = plain["rectangles"][0]
    assert first["length_as_bought"] == pytest.approx((first["end"] - first["start"]) / 0.9)
    assert first["width_as_bought"] == pytest.approx((first["high"] - first["low"]) / 0.95)
    assert plain["free_as_bought_mm2"] == pytest.approx(plain["free_mm2"] / 0.9 / 0.95)
    assert left_cells(found)[0][3] == "as bought"
    assert any("'as bought' is before it shrinks" in line for line in left_lines(found))
    after = left(with_fabrics(f'width = "64 in"\nselvedge = "1/2 in"\nwashed = "after"\n{shrinks}'))
    assert after.bought == (1.0, 1.0) and after.length == pytest.approx(after.plan.purchase.buy - INCH)


def test_bias_of_the_first_rectangle() -> None:
    """What is told of the bias is the sum of its strips, rounded down, and twice that of both layers."""
    found = left(with_fabrics('width = "60 in"\nminimum = "3 yd"'), bias=INCH)
    total = sum(strip.length for strip in found.bias)
    first = found.rectangles[0].zone
    assert 0 < total * INCH < first.area
    (line,) = [line for line in left_lines(found) if "On the bias" in line]
    told = [float(part.split()[0]) for part in line.split("gives ")[1:]]
    assert told[0] <= total / INCH < told[0] + 1 and "from both layers" in line


def pieces_job(folder: Path, name: str, *sizes: tuple[float, float, int]) -> Path:
    """A job of rectangles, inches, each cut so many times."""
    pieces = [
        Piece.from_polygon([(0, 0), (a, 0), (a, b), (0, b)], f"part {i}", unit="in", cut=cut)
        for i, (a, b, cut) in enumerate(sizes)
    ]
    (folder / f"{name}.json").write_text(json.dumps(to_plain(PieceSet(name, tuple(pieces)))), encoding="utf-8")
    path = folder / f"{name}.toml"
    path.write_text(f'garment = "imported"\npieces_file = "{name}.json"\n', encoding="utf-8")
    return path


def test_another_job(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """A small pair fits (0); a single one only with the folded cloth laid open; a huge one finds no place (1)."""
    job = job_file(MODEL)
    quick = ("--effort", "0", "--number", "1")
    bag = run("left", job, "--job", pieces_job(job.parent, "bag", (4, 3, 2)), *quick, "--json")
    said = json.loads(bag.out)["other"]
    assert (bag.code, said["answer"], said["pieces"], said["tried"]) == (0, "yes", 2, [])
    assert [one["piece"] for one in said["layout"]["placements"]][-1] == "bag: part 0"
    strap = json.loads(run("left", job, "--job", pieces_job(job.parent, "strap", (5, 2, 1)), *quick, "--json").out)
    assert (strap["spread"], strap["other"]["answer"]) == ("open", "yes")
    assert "allow waste_twins" in strap["other"]["tried"][0]["reason"]
    huge = run("left", job, "--job", pieces_job(job.parent, "huge", (50, 20, 2)), *quick)
    assert huge.code == 1 and "No place found for huge.toml (2 pieces). That does not prove" in huge.out


@pytest.mark.parametrize(
    ("options", "why"),
    [
        (("--strip", "2"), "cannot read --strip, '2': a bare number has no unit"),
        (("--bias", "0 in"), "cannot read --bias, '0 in': a strip is 1/8 in wide or more"),
        (("--bias", "0.001 mm"), "a strip is 1/8 in wide or more"),
        (("--strip", "2.9 mm"), "a strip is 1/8 in wide or more"),
        (("--fabric", "3"), "--fabric 3"),
        (("--job", "gone.toml"), "gone.toml"),
    ],
)
def test_mistakes(options: tuple[str, ...], why: str, run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """What cannot be read, or is not there, is one line and code 2."""
    said = run("left", job_file(MODEL), *options)
    assert (said.code, said.err.count("\n")) == (2, 1) and why in said.err


def test_cloth_without_pieces_of_the_other_job(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """A job that has no lining is not laid on lining."""
    lined = edited(
        ('spread = "folded"  ', 'material = "lining"\nspread = "folded"  '),
        ('back = "fold"  ', 'lining = "full"\nback = "fold"  '),
    )
    job = job_file(lined)
    said = run("left", job, "--job", pieces_job(job.parent, "bag", (4, 3, 2)), "--effort", "0")
    assert said.code == 2 and "bag.toml has no piece of lining" in said.err


def test_another_jobs_shapes_are_pieced(tmp_path: Path) -> None:
    """By hand: 60 in and two of 1/2 in on 45 in of cloth are pieced of 2, 31 in each; both jobs have a 'panel'."""
    shape = '[[shape]]\nname = "panel"\nkind = "rectangle"\nlength = "{} in"\nwidth = "{} in"\n'
    cloth = '[[fabric]]\nname = "linen"\nwidth = "{} in"\nspread = "open"\nselvedge = "0 in"\n{}'
    mine = parse_job(shape.format(19, 19) + cloth.format(45, 'sold_by = "2 yd"'))
    other = parse_job(shape.format(11, 60) + cloth.format(40, ""), "other.toml")
    found = what_is_left(LeftAsked(mine, 3, other=other), FIRST)
    assert found.beside and (found.beside.spread, found.beside.pieces) == ("open", 2)
    (line,) = found.beside.piecing
    assert line.startswith("other: panel: on linen pieced of 2 parts, cut 2 of 12 in × 31 in, joined by 1 seam")
    assert f"  {line}" in left_lines(found)
    assert [row[1] for row in left_cells(found)].count("other: panel") == 2
    assert left_to_plain(found)["other"]["piecing"] == [line]
