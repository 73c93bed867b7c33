"""Answers for machines: the keys that were promised, and markers that anyone can check."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pytest
import shapely

from pieces.exchange.own.plain import to_plain
from reports.ask.job import parse_job
from reports.plan.effort import Effort
from reports.plan.plain import marker_to_plain, plan_to_plain
from reports.plan.plan import Plan, plan_job
from tests.make.model import RIB, with_fabrics
from tests.make.recheck import recheck

if TYPE_CHECKING:
    from collections.abc import Callable

FABRIC = {
    "name", "width_mm", "usable_width_mm", "spread", "marker_mm", "proof", "other_ways", "density_percent", "additions",
    "buy_mm", "buy", "cost", "checked",
}  # fmt: skip
STRIPS = '[[rib]]\nform = "strips"\nwidth = "42 in"\ndepth = "8 in"\nprice = "5.40 / strip"\n'


def planned(text: str) -> Plan:
    """The plan of a job by first layouts only."""
    return plan_job(parse_job(text), Effort(0))


@pytest.fixture(scope="module")
def answer() -> Any:
    """The model job's answer on cloth with a nap, with a second cloth that will not do, and strips beside the tube."""
    cloth = 'width = "60 in"\nnap = true\nprice = "$14 / yd"', 'name = "tape"\nwidth = "10 in"'
    text = with_fabrics(*cloth, rib=RIB + STRIPS)
    return json.loads(json.dumps(plan_to_plain(planned(text)), allow_nan=False))


def test_keys(answer: dict[str, Any]) -> None:
    """The answer has every key that was promised."""
    assert {"job", "units", "seed", "best", "fabrics", "ribs"} <= set(answer)
    cloth, _ = answer["fabrics"]
    assert set(cloth) >= FABRIC
    assert all(
        set(addition) == {"kind", "what", "mm", "percent", "step_mm", "repeat_mm"} for addition in cloth["additions"]
    )
    tube, strips = answer["ribs"]
    assert {"name", "form", "buy_mm", "buy", "cuts"} <= set(tube)
    assert {"name", "form", "count", "buy", "cuts"} <= set(strips)
    assert all({"band", "from", "length_mm", "joins"} <= set(cut) for rib in (tube, strips) for cut in rib["cuts"])


def test_causes_and_kinds(answer: dict[str, Any]) -> None:
    """Why a cloth will not do, and each addition, is data: 'back' needs 13 7/8 in, a 10 in tape folded gives 5."""
    cloth, tape = answer["fabrics"]
    cause = tape["cause"]
    assert (cause["kind"], cause["given_mm"]) == ("too wide", 127.0) and cause["needed_mm"] > 127
    assert tape["refused"].startswith(f"'{cause['piece']}' needs")
    assert [more["kind"] for more in cloth["additions"]] == ["ends", "rounding"]
    assert [line["kind"] for line in cloth["lines"]] == ["marker", "ends", "rounding"]
    assert cloth["additions"][-1]["step_mm"] == pytest.approx(914.4 / 8)


def test_numbers(answer: dict[str, Any]) -> None:
    """The numbers of a cloth go together: marker, bound, additions, purchase, cost, density."""
    cloth, _ = answer["fabrics"]
    assert cloth["proof"]["bound_mm"] <= cloth["marker_mm"]
    assert cloth["marker_mm"] + sum(a["mm"] for a in cloth["additions"]) == pytest.approx(cloth["buy_mm"])
    assert cloth["cost"] == pytest.approx(14 * cloth["buy_mm"] / 914.4, abs=0.005)
    assert cloth["currency"] == "$"
    assert cloth["usable_width_mm"] <= cloth["width_mm"] == 1524
    assert cloth["checked"] is True


def test_best(answer: dict[str, Any]) -> None:
    """The best of each part is data: the one cloth that will do, and of the ribs the cheaper, with what it saves."""
    (cloth, rib) = answer["best"]
    assert (cloth["part"], cloth["kind"], cloth["number"], cloth["by"]) == ("shell", "fabric", 1, "only")
    costs = [one["cost"] for one in answer["ribs"]]
    assert (rib["part"], rib["kind"], rib["by"]) == ("rib", "rib", "cost")
    assert costs[rib["number"] - 1] == min(costs)
    assert rib["saved"] == pytest.approx(max(costs) - min(costs))
    assert cloth["tied_with"] == rib["tied_with"] == []


def test_a_tie() -> None:
    """Two equal cloths tie as data: each as good, neither against the other, and nothing saved."""
    cloth = 'width = "60 in"\nprice = "$14 / yd"'
    plain = plan_to_plain(planned(with_fabrics(cloth, f'name = "other"\n{cloth}')))
    best = plain["best"][0]
    assert (best["number"], best["by"], best["tied_with"]) == (1, "cost", [{"number": 2, "name": "other"}])
    assert (best["against"], best["saved"]) == (None, None)


def test_proof() -> None:
    """What buying less takes: a marker just so long is bought with less, and one a hair longer is not.

    Worked out with the rules of `purchase`, whose figures other tests check by hand.
    """
    plan = planned(with_fabrics('width = "60 in"\nspread = "folded"'))
    ((_, fabric),) = plan.markers
    proof = plan_to_plain(plan)["fabrics"][0]["proof"]
    needs = proof["less_needs_mm"]
    assert not proof["proved"]
    assert proof["bound_mm"] <= needs < fabric.result.marker.length
    assert fabric.offer.purchase(needs).buy < fabric.purchase.buy == fabric.offer.purchase(needs + 0.01).buy
    assert (proof["least_buy_mm"], proof["buys_least"]) == (fabric.least.enough, False)


def test_other_ways() -> None:
    """Each other way to lay a cloth is data: what it takes and what that is to buy, or why it will not do."""
    plan = planned(with_fabrics('width = "60 in"\nspread = "best"'))
    (cloth,) = plan_to_plain(plan)["fabrics"]
    told = [way for way in cloth["other_ways"] if "mm" in way]
    laid = [way for way in told if way["searched"]]
    assert laid and len(told) > len(laid)
    assert all(way["buy_mm"] >= way["mm"] for way in laid)
    assert all((way["mm"], way["buy_mm"], way["buy"]) == (None,) * 3 for way in told if not way["searched"])
    assert all(way["reason"] for way in cloth["other_ways"] if "mm" not in way)
    simplest = [way["spread"] for way in laid if way["simplest"]] or [cloth["spread"]]
    assert simplest == [cloth["simplest_spread"]]


def test_refused(answer: dict[str, Any]) -> None:
    """A cloth that will not do has its reason in place of numbers, and was not checked."""
    _, tape = answer["fabrics"]
    assert tape["name"] == "tape"
    assert "'back' needs" in tape["refused"]
    assert tape["checked"] is False


def test_strips(answer: dict[str, Any]) -> None:
    """Strips are counted: cost is their number times the price, each cut names its strip."""
    _, strips = answer["ribs"]
    assert strips["cost"] == pytest.approx(5.40 * strips["count"])
    assert strips["buy"] == f"{strips['count']} strip{'s' if strips['count'] > 1 else ''}"
    assert len({cut["from"] for cut in strips["cuts"]}) == strips["count"]


def test_bands_whole(answer: dict[str, Any]) -> None:
    """The parts of each band, less two seam allowances a join, make the band; each band is there once, cuffs twice."""
    for rib in answer["ribs"]:
        bands: dict[tuple[str, int], list[dict[str, Any]]] = {}
        for cut in rib["cuts"]:
            bands.setdefault((cut["band"], cut["copy"]), []).append(cut)
        lengths = {key: sum(c["length_mm"] for c in cuts) - 25.4 * cuts[0]["joins"] for key, cuts in bands.items()}
        assert set(lengths) == {("cuff", 1), ("cuff", 2), ("hem band", 1), ("neckband", 1)}
        assert lengths["cuff", 1] == lengths["cuff", 2] == pytest.approx(9.5 * 25.4)  # common practice, no source
        assert all(cuts[0]["joins"] == len(cuts) - 1 for cuts in bands.values())


SPREADS = {
    "open": 'width = "60 in"\nspread = "open"\nselvedge = "1/2 in"',
    "open, with nap": 'width = "60 in"\nspread = "open"\nnap = true',
    "open, with a gap": 'width = "60 in"\nspread = "open"\ngap = "1/4 in"',
    "folded": 'width = "60 in"\nspread = "folded"\nselvedge = "1/2 in"',
    "folded, with nap": 'width = "60 in"\nspread = "folded"\nnap = true\ngap = "3 mm"',
    "double-folded": 'width = "108 in"\nspread = "double-folded"\nselvedge = "1/2 in"',
    "tube": 'opened = "60 in"\nspread = "tube"',
}


@pytest.mark.parametrize(
    ("spread", "style"), [(spread, 'back = "fold"') for spread in SPREADS] + [("folded, with nap", 'back = "seam"')]
)
def test_marker(spread: str, style: str) -> None:
    """A marker can be cut: by shapely alone, in its bands, no overlaps, each piece as often as drafted, folds kept."""
    plan = planned(with_fabrics(SPREADS[spread]).replace('back = "fold"', style))
    ((_, fabric),) = plan.markers
    plain = marker_to_plain(fabric), to_plain(plan.pieces)
    marker, drafted = (json.loads(json.dumps(x, allow_nan=False)) for x in plain)
    recheck(marker, drafted, nap="nap" in spread)
    assert (marker["unit"], marker["spread"]) == ("mm", spread.partition(",")[0])
    assert marker["width"] == pytest.approx(fabric.offer.width / (1 if marker["spread"] == "open" else 2))
    bands = {"name", "x0", "x1", "y0", "y1", "layers", "mirrored", "low_edge", "high_edge"}
    assert all(set(band) >= bands for band in marker["bands"])
    placements = {"piece", "copy", "band", "turn", "mirrored", "on_fold", "outline"}
    assert all(set(placement) >= placements for placement in marker["placements"])
    numbered = [(placement["piece"], placement["copy"]) for placement in marker["placements"]]
    assert len(set(numbered)) == len(numbered)


@pytest.fixture(scope="module")
def laid() -> tuple[str, str]:
    """A marker on folded cloth and the pieces it was made of."""
    plan = planned(with_fabrics(SPREADS["folded, with nap"]))
    return json.dumps(marker_to_plain(plan.markers[0][1])), json.dumps(to_plain(plan.pieces))


def moved(placement: dict[str, Any], dx: float, dy: int) -> dict[str, Any]:
    """Move an outline."""
    placement["outline"] = [[x + dx, y + dy] for x, y in placement["outline"]]
    return placement


SPOILED: dict[str, Callable[[dict[str, Any]], object]] = {
    "overlap": lambda marker: [moved(p, -min(x for x, _ in p["outline"]), 0) for p in marker["placements"]],
    "outside": lambda marker: moved(marker["placements"][0], marker["length"], 0),
    "off the fold": lambda marker: moved(next(p for p in marker["placements"] if p["on_fold"]), 0, 1),
    "missing": lambda marker: marker["placements"].pop(),
    "too short": lambda marker: marker.update(length=marker["length"] - 1),
    "gap too small": lambda marker: marker.update(gap=30.0),
    "against the nap": lambda marker: marker["placements"][0].update(turn=180.0),
    "another shape": lambda marker: marker["placements"][0].update(
        outline=[[x, y * 0.99] for x, y in marker["placements"][0]["outline"]]
    ),
}


@pytest.mark.parametrize("harm", SPOILED)
def test_recheck_can_fail(laid: tuple[str, str], harm: str) -> None:
    """The second look sees a marker that was spoiled, and only then."""
    marker, drafted = map(json.loads, laid)
    recheck(marker, drafted, nap=True)
    SPOILED[harm](marker)
    with pytest.raises(AssertionError):
        recheck(marker, drafted, nap=True)


def test_cloth_alone() -> None:
    """A job without rib has an empty list of ribs."""
    assert plan_to_plain(planned(with_fabrics(SPREADS["folded, with nap"])))["ribs"] == []


def test_density_by_hand() -> None:
    """Percent of the marker's cloth, all layers between the selvedges, that becomes pieces: by their own areas."""
    plan = planned(with_fabrics('width = "60 in"\nselvedge = "1/2 in"\nspread = "open"'))
    (cloth,) = plan_to_plain(plan)["fabrics"]
    area = sum(shapely.Polygon(piece.unfolded).area * piece.cut for piece in plan.pieces.of("shell"))
    assert cloth["density_percent"] == pytest.approx(100 * area / (cloth["marker_mm"] * 59 * 25.4), rel=1e-6)
