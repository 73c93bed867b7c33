"""The command `fits`: yes with a layout, no with a proof, not found; mistakes; and its picture."""

from __future__ import annotations

import json
import re
import signal
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
import shapely
from matplotlib.collections import LineCollection
from pytest import MonkeyPatch

from nesting.fit.fitting import fit_pieces
from nesting.fit.remnant import Remnant, Zone
from nesting.search.stop import MaxIterations
from pieces.length import mm
from pieces.units import INCH, Units
from reports.batch.progress import Interrupt
from reports.draw.fault import draw_faults
from reports.draw.kit.sheet import Sheet, new_page
from reports.fit.draw import remnant_page, short_page
from reports.fit.files import FILES
from reports.fit.remnant import parse_remnant
from tests.make.cloth import tab
from tests.make.drawn import overlapping, texts
from tests.make.model import HEAD, MODEL, with_fabrics
from tests.make.recheck import recheck

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from matplotlib.collections import Collection

    from nesting.fit.remnant import RemnantSpread
    from tests.reports.conftest import Ran


QUICK = ("--effort", "0.02")
CORNER = "0 in,30 in,12 in,15 in"


def drafted(run: Callable[..., Ran], job: Any) -> Any:
    """The pieces of a job, as `draft` prints them."""
    return json.loads(run("draft", job, "--json").out)


def test_yes(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """On a yard and three quarters of 60 in the pieces fit: places are told, and what is left over."""
    said = run("fits", job_file(MODEL), "--remnant", "60 in x 1 3/4 yd", *QUICK)
    assert said.code == 0
    assert "Yes: the pieces fit on the remnant of 60 in × 63 in, open, single layer." in said.out
    assert re.search(r"[\d /]+ in of the length is left over at the end; \d+\.\d% of the usable cloth", said.out)
    assert len(re.findall(r"^\d+ +\w+", said.out, re.M)) == 1 + 2 + 2 + 2  # back; fronts, sleeves, facings


@pytest.mark.parametrize("spread", ["open", "folded"])
def test_layout_is_clear_of_cut_outs(job_file: Callable[[str], Path], run: Callable[..., Ran], spread: str) -> None:
    """The layout of `--json` can be cut: pieces whole, apart, on the remnant, off the cut-outs (shapely alone)."""
    job = job_file(MODEL)
    flaw = "40 in,20 in,2 in,3 in"
    said = run(
        *("fits", job, "--remnant", "60 in x 2 1/4 yd", "--cut-out", CORNER, "--cut-out", flaw),
        *("--spread", spread, "--selvedge", "1/2 in", "--json", *QUICK),
    )
    assert (said.code, said.err) == (0, "")
    answer = json.loads(said.out)
    layout = answer["layout"]
    recheck(layout, drafted(run, job))
    holes = [(0, 12, 30, 45), (40, 42, 20, 23)] if spread == "open" else [(0, 12, 0, 15), (40, 42, 7, 10)]
    hole = shapely.union_all([shapely.box(a * INCH, c * INCH, b * INCH, d * INCH) for a, b, c, d in holes])
    assert shapely.union_all([shapely.Polygon(o) for o in layout["cut_outs"]]).equals_exact(hole, 1e-6, normalize=True)
    for placement in layout["placements"]:
        shape = shapely.Polygon(placement["outline"])
        assert shape.intersection(hole).area < 0.01
        assert shape.bounds[2] <= 81 * INCH + 0.01
    assert answer["left_over_mm"] == pytest.approx(81 * INCH - layout["length"])
    laid = sum(
        shapely.Polygon(p["cut_line"]).area * p["cut"] * (2 if p["on_fold"] else 1)
        for p in drafted(run, job)["pieces"]
        if p["material"] == "shell"
    )
    # By hand: 59 x 81 square inches between the selvedges, less 12 x 15 and 2 x 3.
    usable = (59 * 81 - 12 * 15 - 2 * 3) * INCH**2
    assert answer["remnant"]["usable_mm2"] == pytest.approx(usable)
    assert answer["waste_percent"] == pytest.approx(100 * (1 - laid / usable), abs=1e-3)


@pytest.mark.parametrize(
    ("size", "options", "reason"),
    [
        ("60 in x 24 in", (), "' alone is at least 27 7/8 in long; there are 24 in"),
        ("60 in x 28 in", (), "% of the usable cloth"),
        ("20 in x 4 yd", (), "'back' needs 27 5/8 in ("),
        ("45 in x 4 yd", ("--spread", "folded"), "folded gives 22 1/2 in (571 mm): lay the cloth open"),
        ("60 in x 60 in", ("--cut-out", "20 in,0 in,20 in,60 in"), "no place for 'back' alone"),
        ("60 in x 60 in", ("--cut-out", "0 in,0 in,60 in,60 in"), "no usable cloth is left"),
    ],
)
def test_no(
    job_file: Callable[[str], Path], run: Callable[..., Ran], size: str, options: tuple[Any, ...], reason: str
) -> None:
    """A no is told in one line with its proof, at once, with exit code 1; in JSON the same."""
    said = run("fits", job_file(HEAD), "--remnant", size, *options)
    assert (said.code, said.err) == (1, "")
    (line,) = said.out.splitlines()
    assert line.startswith("No, proved: the pieces do not fit on the remnant of ") and reason in line
    answer = json.loads(run("fits", job_file(HEAD), "--remnant", size, *options, "--json").out)
    assert answer["answer"] == "no" and answer["layout"] is None
    assert [(tried["answer"], tried["effort"]) for tried in answer["tried"]] == [("no", None)]


def test_not_found(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """Where neither layout nor proof is found, it says how long it looked, what the best needed, and the most waste."""
    said = run("fits", job_file(HEAD), "--remnant", "60 in x 42 in", "--effort", "0")
    assert said.code == 1
    assert re.search(r"^Not found in \d+\.\d s: no layout on the remnant of 60 in × 42 in, and no proof", said.out)
    assert re.search(r"The best needed [\d /]+ in of length, open, single layer; there are 42 in\.", said.out)
    assert re.search(r"At most \d+\.\d% of the remnant's usable cloth would be left over if it fitted\.", said.out)
    assert "--seconds" in said.out


def test_interrupted(job_file: Callable[[str], Path], run: Callable[..., Ran], monkeypatch: MonkeyPatch) -> None:
    """Ctrl-C during the search: what the best needed so far is told, and the exit code is the signal's."""

    def hit_at_once(self: Interrupt) -> Interrupt:
        self._hit(signal.SIGINT, None)
        return self

    monkeypatch.setattr(Interrupt, "__enter__", hit_at_once)
    said = run("fits", job_file(HEAD), "--remnant", "60 in x 42 in", "--seconds", "600")
    assert said.code == 130
    assert "Not found in" in said.out and "The best needed" in said.out
    assert "interrupted" in said.err


def test_best_says_why_not_folded(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """`best` falls back on open cloth where a piece is too wide for folded cloth, and says so."""
    said = run("fits", job_file(HEAD), "--remnant", "45 in x 2 1/2 yd", "--spread", "best", *QUICK)
    assert said.code == 0
    assert "open, single layer." in said.out
    assert "folded lengthwise: 'sleeve' needs" in said.out


TWO_CLOTHS = with_fabrics(
    'name = "wool"\nwidth = "60 in"\nselvedge = "1/2 in"\nnap = true\ngap = "1/8 in"\ntilt = 2',
    'name = "satin"\nwidth = "45 in"\npieces = ["sleeve"]\nrepeat_along = "4 in"',
)


@pytest.mark.parametrize(
    ("options", "pieces", "like"),
    [
        ((), {"back", "front", "front facing"}, ("wool", 12.7, True, 3.175)),
        (("--no-nap", "--selvedge", "0 in"), {"back", "front", "front facing"}, ("wool", 0, False, 3.175)),
        (("--cloth", "satin", "--nap"), {"sleeve"}, ("satin", 0, True, 0)),
    ],
)
def test_cloth(
    job_file: Callable[[str], Path],
    run: Callable[..., Ran],
    options: tuple[Any, ...],
    pieces: set[str],
    like: tuple[Any, ...],
) -> None:
    """Of several cloths one is meant: its pieces are laid, by its selvedge, nap and gap unless others are given."""
    asked = ("fits", job_file(TWO_CLOTHS), "--remnant", "60 in x 2 yd", *options, "--effort", "0")
    answer = json.loads(run(*asked, "--json").out)
    remnant = answer["remnant"]
    assert (answer["cloth"], *(remnant[key] for key in ("selvedge", "nap", "gap"))) == pytest.approx(like)
    assert set(answer["pieces"]) == pieces == {placement["piece"] for placement in answer["layout"]["placements"]}
    assert answer["layout"]["gap"] == pytest.approx(like[3])
    said = run(*asked).out
    assert f"Laid as '{like[0]}': " in said and ("not matched" in said) == (like[0] == "satin")


@pytest.mark.parametrize("fabric", [[], ['width = "60 in"']], ids=["no cloth", "one without selvedge"])
def test_selvedge_left_out_is_said(job_file: Callable[[str], Path], run: Callable[..., Ran], fabric: list[Any]) -> None:
    """A selvedge that neither cloth nor option gives is told, in words and as data; a no holds with any selvedge."""
    asked = ("fits", job_file(with_fabrics(*fabric)), "--remnant", "60 in x 2 yd", "--effort", "0")
    assert 'No selvedge is given, so none is taken off: measure it, or write --selvedge "0 in".' in run(*asked).out
    assert json.loads(run(*asked, "--json").out)["remnant"]["selvedge_given"] is False
    assert "is given" not in run(*asked[:2], "--remnant", "60 in x 9 in").out
    given = (*asked, "--selvedge", "0 in")
    assert "is given" not in run(*given).out
    assert json.loads(run(*given, "--json").out)["remnant"]["selvedge_given"] is True


def test_table_is_not_headed_no(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """Above a "Yes" stands no "no.": the table of places has a title, and its numbers stand under a sign."""
    said = run("fits", job_file(MODEL), "--remnant", "60 in x 2 yd", "--effort", "0").out
    title, heads = said.splitlines()[:2]
    assert title.strip() == "Where the pieces lie on the remnant"
    assert heads.split()[:2] == ["#", "piece"]
    assert "no." not in said


def test_no_such_cloth(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """A cloth that the job does not name is told in one line, with those it names."""
    asked = ("--remnant", "60 in x 2 yd", "--cloth", "silk")
    for job, known in ((TWO_CLOTHS, "there are 'wool', 'satin'"), (HEAD, "it has no [[fabric]]: leave")):
        said = run("fits", job_file(job), *asked)
        assert (said.code, said.out, said.err.count("\n")) == (2, "", 1)
        assert "--cloth 'silk'" in said.err and known in said.err


def test_what_was_asked_is_told_exactly(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """A yard is 91.44 cm, a half inch 1.27: both are told so, and what is proved of them is not more than that."""
    job = job_file(HEAD.replace('"in"  ', '"cm"  ', 1))
    said = run("fits", job, "--remnant", "60 in x 1 yd", "--selvedge", "1/2 in", "--effort", "0")
    assert "the remnant of 152.4 cm × 91.44 cm" in said.out and "91.44 cm" in said.out.split("×", 1)[1]
    assert not re.search(r"152\.5|91\.5|[^.\d]91 cm|1\.5 cm", said.out)
    told = json.loads(run("fits", job, "--remnant", "60 in x 1 yd", "--seed", "3", "--effort", "0", "--json").out)
    assert (told["units"], told["seed"]) == ("cm", 3)


def test_metric(job_file: Callable[[str], Path], run: Callable[..., Ran]) -> None:
    """A metric job is answered in centimetres, however the remnant was measured."""
    said = run("fits", job_file(HEAD.replace('"in"  ', '"cm"  ', 1)), "--remnant", "60 in by 1.8 m", "--nap", *QUICK)
    assert said.code == 0
    assert "152.4 cm × 180 cm" in said.out and " in " not in said.out.partition("Yes: ")[2].replace("in all", "")


def test_folder(
    job_file: Callable[[str], Path], run: Callable[..., Ran], tmp_path: Path, monkeypatch: MonkeyPatch
) -> None:
    """`--out` writes the answer and a layout's picture; none is overwritten unasked, none outlives its answer."""
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())
    job = job_file(HEAD)
    asked = ("fits", job, "--remnant", "60 in x 2 yd", "--out", "here", *QUICK)
    said = run(*asked)
    assert said.code == 0
    assert sorted(path.name for path in (tmp_path / "here").iterdir()) == sorted(FILES)
    assert json.loads((tmp_path / "here" / "fits.json").read_text())["answer"] == "yes"
    again = run(*asked)
    assert again.code == 2 and "already exists" in again.err
    said = run("fits", job, "--remnant", "60 in x 24 in", "--out", "here", "--force")
    assert said.code == 1
    assert sorted(path.name for path in (tmp_path / "here").iterdir()) == ["fits.json", "fits.txt"]
    assert "alone is at least 27 7/8 in long; there are 24 in" in (tmp_path / "here" / "fits.txt").read_text()


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--remnant", "60 in"), "cannot read the remnant '60 in': write width and length"),
        (("--remnant", "60 x 45 in"), "has no unit"),
        (("--remnant", "60 in x 45 ells"), "unknown unit 'ells'"),
        (("--remnant", "0 in x 45 in"), "the width of a remnant must be more than 0"),
        (("--remnant", "60 in x 0 yd"), "the length of a remnant must be more than 0"),
        (("--remnant", "60 in x 45 in x 3 in"), "write width and length"),
        (("--remnant", ""), "write width and length"),
        (("--remnant", "60 in x 45 in", "--cut-out", "0 in,30 in,12 in"), "write distance from the start"),
        (("--remnant", "60 in x 45 in", "--cut-out", "0 in,30 in,12 in,wide"), "cannot read the cut-out"),
        (("--remnant", "60 in x 45 in", "--cut-out", "-1 in,30 in,12 in,5 in"), "cannot be negative"),
        (("--remnant", "60 in x 45 in", "--cut-out", "0 in,30 in,0 in,5 in"), "cut-out 1 has no length or no width"),
        (("--remnant", "60 in x 45 in", "--cut-out", "40 in,0 in,6 in,5 in"), "but the length of the remnant is 45 in"),
        (("--remnant", "60 in x 45 in", "--cut-out", "0 in,50 in,6 in,15 in"), "but the width of the remnant is 60 in"),
        (("--remnant", "60 in x 45 in", "--selvedge", "30 in"), "nothing is left to cut"),
        (("--remnant", "60 in x 45 in", "--selvedge", "thin"), "cannot read the selvedge"),
        (("--remnant", "60 in x 45 in", "--spread", "folded crosswise"), "folded crosswise"),
        ((), "--remnant"),
    ],
)
def test_mistakes(
    job_file: Callable[[str], Path], run: Callable[..., Ran], options: tuple[Any, ...], said: str
) -> None:
    """A mistake is told in one line, with exit code 2; nothing goes to stdout."""
    ended = run("fits", job_file(HEAD), *options, "--json")
    assert (ended.code, ended.out) == (2, "")
    assert said in " ".join(ended.err.split()).replace("│ ", "")
    assert ended.err.count("\n") == 1 or "Usage" in ended.err


@pytest.mark.parametrize(
    "text", ["60 in x 1 1/4 yd", "60in×45in", '60" X 45"', "5 ft by 3 ft 9 in", "152.4 cm x 1.143 m"]
)
def test_sizes_as_people_write_them(text: str) -> None:
    """Sixty inches by a yard and a quarter, in all its spellings: 1524 x 1143 mm (25.4 mm to the inch)."""
    remnant = parse_remnant(text)
    assert (remnant.width, remnant.length) == pytest.approx((1524, 1143))


def test_cut_out_as_people_write_it() -> None:
    """A cut-out's four lengths, in any units: from the start, from the lower edge, length, width."""
    remnant = parse_remnant("60 in x 1 1/4 yd", ["0 in, 30 in, 1 ft, 38.1 cm"])
    assert remnant.cut_outs[0] == pytest.approx((0, 12 * INCH, 30 * INCH, 45 * INCH))


def tabs(length: float, *zones: Zone) -> Any:
    """Four tabs on a remnant 155 across, and the length of the remnant."""
    fitting = fit_pieces([tab(4)], Remnant(mm(155), mm(length), zones), ("open",), lambda: (MaxIterations(5),))
    assert fitting.layout and fitting.layout.result
    return fitting.layout.result.marker, length


@pytest.mark.parametrize(
    "laid",
    [
        lambda: tabs(400, Zone(0, 90, 0, 60)),
        lambda: tabs(260, Zone(160, 260, 90, 150), Zone(0, 10, 0, 10)),
        lambda: tabs(6000, Zone(5000, 5500, 20, 100)),
    ],
)
def test_picture(laid: Callable[..., Any]) -> None:
    """All of the remnant is drawn, its cut-outs named, pieces numbered, what is left over told; no words collide."""
    marker, length = laid()
    figure = remnant_page(marker, length, title="Tabs", subtitle="a remnant", units=Units.METRIC, lines=("It fits",))
    words = texts(figure)
    assert "It fits" in words
    assert any("left over" in word for word in words)
    assert any("clear" in word for word in words) or max(np.ptp(f, axis=0).min() for f in marker.problem.faults) < 60
    assert overlapping(figure) == []
    for number in "1234":
        assert any(word.split()[0] == number for word in words if word.strip())


def test_picture_of_what_does_not_fit() -> None:
    """Two tabs of 80 on a remnant of 70: the page warns, marks its end, and hatches the 10 x 50 of each beyond it."""
    fitting = fit_pieces([tab(2)], Remnant(mm(155), mm(80)), ("open",), lambda: (MaxIterations(5),))
    assert fitting.layout and fitting.layout.result
    figure = short_page(
        fitting.layout.result.marker,
        70,
        title="Not for cutting: tabs",
        subtitle="a remnant",
        units=Units.METRIC,
        lines=("It does not fit",),
    )
    words = texts(figure)
    assert "Not for cutting: tabs" in words and "It does not fit" in words
    assert sum(word == "1 cm" for word in words) == 2
    assert overlapping(figure) == []
    _, row = figure.axes
    assert any(line.get_linewidth() > 2 and set(np.asarray(line.get_xdata())) == {70} for line in row.lines)
    hatching = shapely.MultiLineString([s for lines in row.collections for s in segments_of(lines)])
    assert hatching.bounds[::2] == pytest.approx((70, 80))


@pytest.mark.parametrize(
    ("spread", "names"),
    [("open", {"lower edge", "upper edge"}), ("folded", {"fold", "edge"})],
)
def test_no_selvedge_is_drawn_where_there_is_none(spread: RemnantSpread, names: set[str]) -> None:
    """Cloth whose selvedges were cut off has edges, in the picture and in its table; a fold stays one."""
    fitting = fit_pieces([tab(4)], Remnant(mm(330), mm(200)), (spread,), lambda: (MaxIterations(0),))
    assert fitting.layout and fitting.layout.result
    marker = fitting.layout.result.marker
    words = texts(remnant_page(marker, 200, title="Tabs", subtitle="", units=Units.METRIC))
    assert names <= set(words)
    found = [word for word in words if "selvedge" in word and "its width not to scale" not in word]
    assert found == []


def segments_of(drawn: Collection) -> list[Any]:
    """The lines of hatching."""
    assert isinstance(drawn, LineCollection)
    return list(drawn.get_segments())


def test_hatching_keeps_inside() -> None:
    """The lines that hatch a cut-out lie on it, and on what is in sight of it."""
    _, page = new_page()
    outline = np.array([(100, 100), (300, 100), (300, 200), (200, 200), (200, 300), (100, 300)], dtype=float)
    window = shapely.box(0, 0, 250, 400)
    draw_faults(Sheet(page.ax, 1.0), [outline], window)
    (drawn,) = page.ax.collections
    seen = shapely.Polygon(outline).intersection(window).buffer(1e-6)
    assert len(segments_of(drawn)) > 40
    assert all(seen.covers(shapely.LineString(line)) for line in segments_of(drawn))


PANEL = """piece,x,y
panel,0,0
panel,999.657325,26.176948
panel,986.568851,526.005611
panel,-13.088474,499.828662
"""
"""1000 x 500 mm, turned by 1.5 degrees: cosine and sine from a table."""


def test_tilt_between(tmp_path: Path, monkeypatch: MonkeyPatch, run: Callable[..., Ran]) -> None:
    """A panel drawn 1.5 degrees off its grain, on cloth that tolerates 3, fits 100.5 cm: it said no, proved."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "panel.csv").write_text(PANEL, encoding="utf-8")
    assert run("import", "panel.csv", "--units", "mm", "--out", "panel").code == 0
    cloth = '[[fabric]]\nname = "plain"\nwidth = "80 cm"\ntilt = 3.0\n'
    job = f'garment = "imported"\npieces_file = "panel/pieces.json"\nunits = "cm"\n{cloth}'
    (tmp_path / "job.toml").write_text(job, encoding="utf-8")
    assert run("fits", "job.toml", "--remnant", "80 cm x 100.5 cm").out.count("Yes: the pieces fit") == 1
    assert "No, proved" in run("fits", "job.toml", "--remnant", "80 cm x 99.9 cm").out
    assert "'panel' needs" in run("fits", "job.toml", "--remnant", "49.9 cm x 300 cm").out
    assert run("fits", "job.toml", "--remnant", "50.2 cm x 300 cm").code == 0
