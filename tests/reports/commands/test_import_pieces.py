"""The command `import`, and jobs that lay what it wrote."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import pytest

from pieces.exchange.own.grading import read_grading
from tests.make.drawings import SQUARE, dxf
from tests.make.layered import DECIDED, LAYERED
from tests.pieces.exchange.test_sized import nest

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

    from tests.reports.conftest import Ran

JOB = """
garment = "imported"
pieces_file = "coat/pieces.json"
[[fabric]]
width = "60 in"
spread = "open"
"""

FILES = {"pieces.json", "import.txt", "pieces.svg", "pieces.png", "pieces.pdf", "coat.pieces.toml"}
FILES |= {"read.svg", "read.png", "read.pdf"}


@pytest.fixture
def coat(tmp_path: Path) -> Path:
    """A drawing in mm of a square and, with a gap, a triangle."""

    def draw(document: Drawing, space: Modelspace) -> None:
        space.add_lwpolyline([(4 * x, 4 * y) for x, y in SQUARE], close=True)
        for start, end in (((900, 0), (1200, 0)), ((1200, 0), (900, 400)), ((900, 399.8), (900, 0))):
            space.add_line(start, end)
        space.add_text("yoke", dxfattribs={"insert": (50, 50)})

    return dxf(tmp_path / "coat.dxf", draw)


def test_import_then_lay_then_change(run: Callable[..., Ran], tmp_path: Path, coat: Path) -> None:
    """Imported pieces are laid, bought for and guided like drafted ones; what is changed beside them counts."""
    done = run("import", coat, "--out", "coat")
    assert done.code == 0 and "yoke" in done.out and "gaps" in done.out and "pieces_file" in done.out
    assert {path.name for path in (tmp_path / "coat").iterdir()} == FILES
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    first = run("buy", "job.toml", "--effort", "0", "--json")
    assert first.code == 0 and json.loads(first.out)["fabrics"][0]["checked"]
    assert run("lay", "job.toml", "--effort", "0", "--json").code == 0
    assert run("guide", "job.toml", "--effort", "0").code == 0
    assert run("draft", "job.toml").code == 0
    assert "already exists" in run("import", coat, "--out", "coat").err
    beside = tmp_path / "coat" / "coat.pieces.toml"
    beside.write_text(beside.read_text(encoding="utf-8").replace("cut = 1", "cut = 20"), encoding="utf-8")
    again = run("import", coat, "--out", "coat", "--force", "--json")
    assert [piece["cut"] for piece in json.loads(again.out)["pieces"]["pieces"]] == [20, 20]
    assert "cut = 20" in beside.read_text(encoding="utf-8")
    more = run("buy", "job.toml", "--effort", "0", "--json")
    assert json.loads(more.out)["fabrics"][0]["buy_mm"] > 5 * json.loads(first.out)["fabrics"][0]["buy_mm"]


@pytest.mark.usefixtures("read_here")
def test_strict(run: Callable[..., Ran], tmp_path: Path, coat: Path) -> None:
    """With --strict a file that must be mended is refused in one line, and nothing is written."""
    done = run("import", coat, "--out", "coat", "--strict")
    assert done.code == 2 and done.err.count("\n") == 1 and "gaps" in done.err
    assert not (tmp_path / "coat").exists()


@pytest.mark.usefixtures("read_here")
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["none.dxf"], "cannot read"),
        (["coat.dxf", "--join", "3"], "has no unit"),
        (["coat.dxf", "--join", "3 m"], "0 to 20 mm"),
        (["coat.dxf", "--grain", "1000"], "-360 to 360"),
        (["coat.dxf", "--units", "ell"], "--units"),
        (["job.toml"], "unknown key 'garment'"),
    ],
)
def test_mistakes(run: Callable[..., Ran], tmp_path: Path, coat: Path, arguments: list[str], said: str) -> None:
    """A user's mistake ends with code 2 and says what is wrong."""
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    done = run("import", *arguments)
    assert done.code == 2 and said in done.err


@pytest.mark.usefixtures("read_here")
@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('pieces_file = "coat/pieces.json"', "", "add a line such as pieces_file"),
        ('garment = "imported"', 'garment = "rib-jacket"', 'goes with garment = "imported"'),
        ("[[fabric]]", '[body]\nbust = "40 in"\n[[fabric]]', "take the measurements out"),
        ("coat/pieces.json", "none.json", "cannot read"),
        ("coat/pieces.json", "job.toml", "not a file of pieces"),
    ],
)
def test_job_of_imported_pieces_wrong(run: Callable[..., Ran], tmp_path: Path, old: str, new: str, said: str) -> None:
    """A job of imported pieces without its file, with a body, or of a file that holds none, is told so."""
    (tmp_path / "coat").mkdir()
    (tmp_path / "job.toml").write_text(JOB.replace(old, new), encoding="utf-8")
    done = run("buy", "job.toml")
    assert done.code == 2 and said in done.err and done.err.count("\n") == 1


@pytest.mark.usefixtures("read_here")
def test_sizes_need_a_body(run: Callable[..., Ran], tmp_path: Path, coat: Path) -> None:
    """Imported pieces cannot be graded: the commands that would are refused in one line."""
    run("import", coat, "--out", "coat")
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    for command in (["chart", "job.toml", "--sizes", "women"], ["sizes", "women", "--job", "job.toml"]):
        done = run(*command)
        assert done.code == 2 and "imported pieces" in done.err and done.err.count("\n") == 1


@pytest.mark.usefixtures("read_here")
def test_a_piece_drawn_clockwise_says_so(run: Callable[..., Ran], tmp_path: Path, coat: Path) -> None:
    """A file of pieces with an edge the other way about is refused for that, and not as not a file of pieces."""
    run("import", coat, "--out", "coat")
    (tmp_path / "job.toml").write_text(JOB, encoding="utf-8")
    file = tmp_path / "coat" / "pieces.json"
    data = json.loads(file.read_text(encoding="utf-8"))
    edges = data["pieces"][0]["edges"]
    data["pieces"][0]["edges"] = [{**edge, "points": edge["points"][::-1]} for edge in edges[::-1]]
    file.write_text(json.dumps(data), encoding="utf-8")
    done = run("buy", "job.toml")
    assert done.code == 2 and "clockwise" in done.err and "not a file of pieces" not in done.err


@pytest.mark.usefixtures("read_here")
def test_legend_learned_and_used(run: Callable[..., Ran], tmp_path: Path) -> None:
    """What the small file decides is learned, and the next file of the program is read by it; without it, it is not."""
    (tmp_path / "a.svg").write_text(LAYERED)
    (tmp_path / "b.svg").write_text(LAYERED.replace("H320V420", "H330V430"))
    lines = (f'[[line]]\nnumbers = [{number}]\nrole = "{role}"\n' for number, role in DECIDED.items())
    (tmp_path / "a.pieces.toml").write_text("\n".join(lines))
    legend = str(tmp_path / "desk.toml")
    assert "--legend" in run("import", str(tmp_path / "a.svg"), "--learn").err
    done = run("import", str(tmp_path / "a.svg"), "--legend", legend, "--learn")
    assert "learned: layer 'red': sew line" in done.out
    assert "not learned: layer 'grey'" in done.out
    edited = (tmp_path / "desk.toml").read_text().replace('role = "sew line"', 'role = "inner line"  # ours')
    (tmp_path / "desk.toml").write_text(edited)
    refused = run("import", str(tmp_path / "a.svg"), "--legend", legend, "--learn", "--out", str(tmp_path / "out"))
    assert (refused.code, refused.err.count("\n")) == (2, 1)
    assert "layer 'red': inner line becomes sew line: give --relearn" in refused.err
    assert (tmp_path / "desk.toml").read_text() == edited
    assert not (tmp_path / "out").exists()
    short = edited[: edited.index("[[line]]")] + '# ours\n[[line]]\nlayer = "outer"\nrole = "piece"\n'
    (tmp_path / "desk.toml").write_text(short)
    done = run("import", str(tmp_path / "a.svg"), "--legend", legend, "--learn", "--json")
    learned = json.loads(done.out)["learned"]
    assert set(learned["rules"]) == {"layer 'red': sew line", "layer 'blue': grain"}
    assert (learned["changes"], learned["without"]) == ([], ["layer 'grey', colour #888888"])
    assert (tmp_path / "desk.toml").read_text().startswith(short)
    assert run("import", str(tmp_path / "a.svg"), "--legend", legend, "--learn").out.count("learned: nothing") == 0
    inline = 'form = "svg"\nline = [{ layer = "outer", role = "piece" }]\n'
    (tmp_path / "desk.toml").write_text(inline)
    refused = run("import", str(tmp_path / "a.svg"), "--legend", legend, "--learn")
    assert (refused.code, "no entry can be added" in refused.err) == (2, True)
    assert (tmp_path / "desk.toml").read_text() == inline
    (tmp_path / "desk.toml").write_text(edited)
    assert run("import", str(tmp_path / "a.svg"), "--legend", legend, "--learn", "--force").code == 2
    again = run("import", str(tmp_path / "a.svg"), "--legend", legend, "--relearn")
    assert "learned: layer 'red': inner line becomes sew line" in again.out
    second = run("import", str(tmp_path / "b.svg"), "--legend", legend).out
    assert "by your legend: layer 'red': sew line, 2 lines" in second
    assert "by your legend" not in run("import", str(tmp_path / "b.svg")).out


@pytest.mark.usefixtures("read_here")
def test_grade_rules_of_a_nest(run: Callable[..., Ran], tmp_path: Path) -> None:
    """They are written beside the pieces, and it is said how far they miss the drawn sizes."""
    path = nest(tmp_path / "panel.svg", (200, 212, 224))
    done = run("import", str(path), "--size", "M", "--grade", "--out", str(tmp_path / "out"))
    assert "Rules made of the drawn sizes miss them by 0." in done.out
    assert read_grading(tmp_path / "out" / "grading.toml").sizes == ("S", "M", "L")
