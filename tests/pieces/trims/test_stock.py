"""Sizes that shops sell, worked out by hand."""

from __future__ import annotations

import pytest

from pieces.trims.sewn import Sewn
from pieces.trims.stock import buttons_for, elastic_for, stock, thread_for, zip_for
from pieces.units import INCH


@pytest.mark.parametrize(
    ("edge", "sold", "usual"), [(21.3, 22, True), (22, 22, True), (22.1, 24, True), (40.2, 41, False)]
)
def test_next_zip(edge: float, sold: float, *, usual: bool) -> None:
    """The next length in the table; beyond the longest, whole inches to order."""
    found = zip_for(edge * INCH, ("front edge",))
    assert (found.sold / INCH, found.usual, found.count) == (pytest.approx(sold), usual, 1)


@pytest.mark.parametrize(("edge", "count", "spacing"), [(25.5, 7, 4), (25.6, 8, 24.1 / 7), (3, 2, 1.5), (1, 2, 0)])
def test_buttons(edge: float, count: int, spacing: float) -> None:
    """24 in between the first and the last take six gaps of 4 in; a little more takes seven; two are the fewest."""
    found = buttons_for(edge * INCH, ("front edge",))
    assert (found.count, found.spacing / INCH) == (count, pytest.approx(spacing))


def test_thread() -> None:
    """10 m in two layers and 5 m in three: 2.8 and 3.2 times, 14 and 15 times, and 15 % to spare."""
    seams = [Sewn("side", 10_000), Sewn("hem band", 5_000, 3), Sewn("front", 1_000, 2, ("lockstitch",))]
    plain, overlock = thread_for(seams)
    assert (plain.name, plain.needed, plain.where) == ("thread", 53_820, ("side", "hem band", "front"))
    assert (overlock.name, overlock.needed, overlock.at_once) == ("overlock thread", 247_250, 3)
    assert plain.sold == overlock.sold == 100_000


def test_lengths_rise() -> None:
    """The first length that is long enough is the next one only in a table that rises."""
    assert stock()["zip"]["inches"] == sorted(set(stock()["zip"]["inches"]))


@pytest.mark.parametrize(("depth", "width"), [(3, 2), (3.125, 3), (1, 0.75), (0.2, 0.25)])
def test_elastic(depth: float, width: float) -> None:
    """The widest sold that lies in the band, an eighth of an inch narrower; an inch more for each join."""
    found = elastic_for(40 * INCH, depth * INCH, ("cuff", "hem band"))
    assert (found.width / INCH, found.needed / INCH) == (pytest.approx(width), pytest.approx(42))
