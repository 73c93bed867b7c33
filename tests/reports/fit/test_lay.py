"""The command `fits` with a lay: its marker as it lies, laid anew, or not at all; a remnant, or a table."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from pytest import MonkeyPatch, TempPathFactory

from reports.ask.order.order import read_order
from reports.fit.lay import FitLay
from reports.fit.length import length_of
from reports.fit.remnant import parse_remnant
from reports.run.lay_marker import ply_length_of
from tests.reports.run.test_lay_file import written

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from reports.run.lay_marker import LayMarker
    from tests.reports.conftest import Ran

QUICK = ("--effort", "0.02")


@pytest.fixture(scope="module")
def lay(tmp_path_factory: TempPathFactory) -> tuple[Path, Path, LayMarker]:
    """An order, and the file of a lay of three plies, an S and an L on each: a first layout, far from short."""
    return written(tmp_path_factory.mktemp("lay"), "face-up")


@pytest.fixture
def fits(
    lay: tuple[Path, Path, LayMarker], run: Callable[..., Ran], tmp_path: Path, monkeypatch: MonkeyPatch
) -> Callable[..., tuple[Ran, dict[str, Any]]]:
    """Ask of that lay, once; what was said, and the answer for machines. It is not drawn."""
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())

    def asked(*options: str) -> tuple[Ran, dict[str, Any]]:
        order, file, _ = lay
        out = tmp_path / "out"
        said = run("fits", order, "--lay", file, *options, *QUICK, "--out", out, "--force")
        return said, json.loads((out / "fits.json").read_text()) if said.code != 2 else {}

    return asked


def test_as_it_lies(lay: tuple[Path, Path, LayMarker], fits: Callable[..., tuple[Ran, dict[str, Any]]]) -> None:
    """A remnant two plies long takes the marker as it lies, and gives two; each outline is where it lay."""
    ply = ply_length_of(lay[2])
    said, plain = fits("--remnant", f"60 in x {2 * ply + 1:.2f} mm")
    assert said.code == 0 and "Yes: the marker of lay 2 goes, as it lies, on the remnant" in said.out
    assert "Its length gives 2 plies" in said.out and "the lay has 3" in said.out
    assert (plain["lay"]["as_it_lies"], plain["lay"]["gives_plies"], plain["lay"]["plies"]) == (True, 2, 3)
    assert plain["lay"]["ply_mm"] == pytest.approx(ply)
    file = json.loads(lay[1].read_text())
    before, after = (
        {(p["piece"], p["copy"]): p["outline"] for p in at["placements"]} for at in (file, plain["layout"])
    )
    assert before.keys() == after.keys()
    assert max(np.abs(np.subtract(before[key], after[key])).max() for key in before) < 0.01


def test_laid_anew(lay: tuple[Path, Path, LayMarker], fits: Callable[..., tuple[Ran, dict[str, Any]]]) -> None:
    """Shorter than its marker, where a better layout goes: that is another one, and no number of plies is said."""
    said, plain = fits("--remnant", f"60 in x {lay[2].marker.length - 20:.1f} mm")
    assert (said.code, plain["answer"]) == (0, "yes")
    assert "laid again" in said.out and "cut from this layout, not from the ticket" in said.out
    assert (plain["lay"]["as_it_lies"], plain["lay"]["gives_plies"]) == (False, None)


def test_table(lay: tuple[Path, Path, LayMarker], fits: Callable[..., tuple[Ran, dict[str, Any]]]) -> None:
    """A table as long as a ply takes it, ends and all; one of 30 in does not, proved: the back alone is longer."""
    ply = ply_length_of(lay[2])
    said, plain = fits("--table", f"{ply + 0.1:.1f} mm")
    assert said.code == 0 and "as it lies, on the table of" in said.out
    assert (plain["lay"]["table_mm"], plain["lay"]["gives_plies"]) == (pytest.approx(ply + 0.1, abs=0.06), None)
    said, plain = fits("--table", "20 in")
    assert said.code == 1 and "No, proved: the pieces of a ply of lay 2 do not fit on the table of 20 in" in said.out
    assert (plain["answer"], plain["ways_out"]) == ("no", [])


def test_flaws_are_asked_about(
    lay: tuple[Path, Path, LayMarker], fits: Callable[..., tuple[Ran, dict[str, Any]]]
) -> None:
    """A hole under a piece: the marker does not go there as it lies, and plies are not counted."""
    _, plain = fits("--remnant", "60 in x 6 yd", "--cut-out", "2 in, 2 in, 20 in, 50 in")
    assert not plain["lay"]["as_it_lies"] and plain["lay"]["gives_plies"] is None


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ((), "--remnant SIZE"),
        (("--remnant", "60 in x 2 yd", "--table", "3 m"), "--remnant SIZE"),
        (("--table", "3 m", "--cut-out", "0 in,30 in,12 in,15 in"), "leave --cut-out out"),
        (("--table", "1 mm"), "no longer than the ends of a ply"),
        (("--remnant", "60 in x 2 yd", "--cloth", "navy canvas"), "leave --cloth out"),
        (("--table", "three"), "cannot read --table"),
    ],
)
def test_refusals(fits: Callable[..., tuple[Ran, dict[str, Any]]], options: tuple[str, ...], said: str) -> None:
    """One line says what to do, code 2."""
    answer, _ = fits(*options)
    assert answer.code == 2 and said in answer.err and len(answer.err.splitlines()) == 1


def test_without_a_lay(lay: tuple[Path, Path, LayMarker], run: Callable[..., Ran]) -> None:
    """A table is asked about for a lay alone, and for one at a time."""
    order, file, _ = lay
    assert "add --lay FILE" in run("fits", order, "--table", "3 m").err
    assert "one lay at a time" in run("fits", order, "--lay", file, "--lay", file, "--table", "3 m").err


def test_the_cloth_on_a_table(lay: tuple[Path, Path, LayMarker]) -> None:
    """It is as wide as the lay's cloth, with its selvedges, and shorter than the table by the ends of a ply."""
    order = read_order(lay[0])
    offer = order.fabric[0]
    cloth = FitLay.of(lay[2], "3 m").cloth_on(offer)
    like = parse_remnant("60 in x 3 m", cloth=offer)
    assert (cloth.width, cloth.selvedge, cloth.nap) == (like.width, like.selvedge, like.nap)
    assert length_of("3 m", "--table") == pytest.approx(3000)
    assert cloth.length == pytest.approx(3000 - 2 * offer.end_allowance)
