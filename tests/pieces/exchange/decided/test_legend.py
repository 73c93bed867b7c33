"""The legend of a program: what it learns, where it is used, and that it is never wrong without a word."""

from __future__ import annotations

import tomllib
from typing import TYPE_CHECKING

import pytest

from pieces.errors import FormatError
from pieces.exchange.decided.legend import LegendRule, LineLegend, best_legend, learned_rules, legend_of
from pieces.exchange.decided.mark import FileMarks, LineMark
from pieces.exchange.imported import ReadingChoices
from pieces.exchange.learning import legend_after
from pieces.exchange.own.sidecar import sidecar_of
from pieces.exchange.read.reader import import_pieces
from tests.make.drawings import FRONT, path, svg
from tests.make.layered import DECIDED, LAYERED, read, told

if TYPE_CHECKING:
    from pathlib import Path


def learned(folder: Path) -> LineLegend:
    """The legend of the layered drawing, all of it decided."""
    decided = told(DECIDED)
    return legend_after(None, read(folder, sidecar=decided), decided)[0]


def test_what_holds_for_all_lines_is_learned(tmp_path: Path) -> None:
    """Three layers are each one thing; the grey one is two, and nothing is learned of it."""
    decided = told(DECIDED)
    legend, rules, without = legend_after(None, read(tmp_path, sidecar=decided), decided)
    assert {rule.words() for rule in rules} == {
        "layer 'outer': cut line", "layer 'red': sew line", "layer 'blue': grain"
    }  # fmt: skip
    assert [mark.layer for mark in without] == ["grey"]
    assert legend.marks.program == "Drawing Desk"
    assert legend_of(tomllib.loads(legend.text()), "a") == legend


def test_the_next_file_of_the_program(tmp_path: Path) -> None:
    """Another drawing by a newer version: all but the grey lines are taken as they were, and each says so."""
    text = LAYERED.replace("12.4", "13.0").replace("H320V420", "H340V450")
    found = read(tmp_path, text, legend=learned(tmp_path), name="b.svg")
    entries = found.report.account.entries
    assert [entry.place for entry in entries] == [*["piece"] * 2, *["sew line"] * 2, *["grain"] * 2, *["piece"] * 2]
    assert [entry.sure for entry in entries] == [*["legend"] * 6, *["placed"] * 2]
    assert not found.report.alarms
    assert "by your legend: layer 'outer': cut line, 2 lines" in found.report.remarks


def test_another_program_is_left_alone(tmp_path: Path) -> None:
    """The same layers by another program are read as if there were no legend."""
    text = LAYERED.replace("Drawing Desk", "Plan Board")
    found = read(tmp_path, text, legend=learned(tmp_path), name="b.svg")
    assert found.report.legend is None
    assert "legend" not in {entry.sure for entry in found.report.account.entries}


@pytest.mark.parametrize("role", ["left out", "frame", "sew line"])
def test_a_cut_line_lost_by_a_legend_is_told(tmp_path: Path, role: str) -> None:
    """Where the layer of sew lines holds a piece, that piece is named as one to look at."""
    rule = legend_of({"form": "svg", "program": "Drawing Desk", "line": [{"layer": "grey", "role": role}]}, "a", "x")
    found = read(tmp_path, legend=rule)
    assert [number for number, _ in found.report.alarms] == [8, 7]
    assert all(words in found.report.guesses for _, words in found.report.alarms)


def test_the_rule_that_says_most_comes_first() -> None:
    """Layer and colour together overrule the layer; a rule for a mark takes the place of the one before."""
    legend = LineLegend(
        FileMarks("dxf"), (LegendRule(LineMark("a", "red"), "fold"), LegendRule(LineMark("a"), "sew line"))
    )
    assert legend.rule_of(LineMark("a", "red", "dots")) == legend.rules[0]
    assert legend.rule_of(LineMark("a", "blue")) == legend.rules[1]
    assert legend.rule_of(LineMark("b")) is None
    after = legend.with_rules([LegendRule(LineMark("a"), "cutout")], FileMarks("dxf", "", ("a",)))
    assert [rule.role for rule in after.rules] == ["fold", "cutout"]
    assert after.marks.layers == ("a",)


def test_the_simplest_rule_that_holds() -> None:
    """Where a layer holds two things, the colour tells them apart; where that does not either, nothing is learned."""
    red, blue = LineMark("a", "red"), LineMark("a", "blue")
    rules, without = learned_rules([(red, "fold")], [(red, "fold"), (blue, "grain")])
    assert (rules, without) == ([LegendRule(LineMark("", "red"), "fold")], [])
    assert learned_rules([(red, "fold")], [(red, "fold"), (red, "grain")]) == ([], [red])


def test_the_best_of_several() -> None:
    """Of two for one program, the one that knows more of the layers."""
    few, many = (LineLegend(FileMarks("svg", "Desk", layers)) for layers in (("a",), ("a", "b")))
    assert best_legend([few, many], FileMarks("svg", "Desk", ("a", "b", "c"))) is many
    assert best_legend([few], FileMarks("svg", "Board")) is None


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({"rules": []}, "rules"),
        ({"line": [{"layer": "a", "role": "sleeve"}]}, "none of"),
        ({"line": [{"role": "fold"}]}, "name a layer"),
        ({"line": [{"layer": "a", "material": "wood"}]}, "material"),
        ({"line": "a"}, "entries"),
        ({"layers": [1]}, "names"),
    ],
)
def test_what_is_no_legend_is_refused(data: dict[str, object], said: str) -> None:
    """With what is wrong."""
    with pytest.raises(FormatError, match=said):
        legend_of(data, "legend.toml")


def test_a_cut_line_within_another_is_guessed(tmp_path: Path) -> None:
    """On the layer of cut lines an opening is drawn: that it is one, no legend says, so it is told as guessed."""
    text = LAYERED.replace('<path d="M360', '<path d="M100 100H200V200H150Z"/><path d="M360')
    entries = read(tmp_path, text, legend=learned(tmp_path), name="b.svg").report.account.entries
    assert [(entry.place, entry.sure) for entry in entries[:3]] == [
        ("piece", "legend"), ("inner line", "guessed"), ("piece", "legend")
    ]  # fmt: skip


def test_entries_for_nothing_are_named(tmp_path: Path) -> None:
    """What the legend says of layers that the file does not have is one line of the report, and no alarm."""
    file = svg(tmp_path / "a.svg", f'<g id="Cut">{path(FRONT)}</g>')
    rules = [{"layer": "Cut", "role": "piece"}, {"layer": "Seww", "role": "sew line"}]
    rules += [{"colour": "#ff0001", "role": "fold"}]
    found = import_pieces(file, ReadingChoices(legend=legend_of({"form": "svg", "line": rules}, "a.toml")))
    assert [said for said in found.report.remarks if "not in this file" in said] == [
        "in your legend, and not in this file: layer 'Seww'; colour #ff0001"
    ]
    assert not found.report.alarms


def test_colours_as_people_write_them(tmp_path: Path) -> None:
    """``#F00`` is the ``#ff0000`` of the file."""
    file = svg(tmp_path / "a.svg", path(FRONT) + '<path d="M60 60V150" fill="none" stroke="red"/>')
    for colour in ("#F00", "#FF0000"):
        legend = legend_of({"form": "svg", "line": [{"colour": colour, "role": "grain"}]}, "a.toml")
        assert read_by(file, legend) == ["piece", "grain"]


def read_by(file: Path, legend: LineLegend) -> list[str | None]:
    """Where the things of a file end by a legend."""
    return [entry.place for entry in import_pieces(file, ReadingChoices(legend=legend)).report.account.entries]


def test_a_legend_that_leaves_no_piece_is_named(tmp_path: Path) -> None:
    """Where the only outline becomes a line, the error names the outline, the entry of the legend, and what to do."""
    file = svg(tmp_path / "a.svg", f'<g id="Cut">{path(FRONT)}</g>')
    legend = legend_of({"line": [{"layer": "Cut", "role": "sew line"}]}, "a.toml")
    with pytest.raises(
        FormatError, match=r"no piece to cut: your legend takes number 1.*layer 'Cut'.*change that entry"
    ):
        import_pieces(file, ReadingChoices(legend=legend))
    decided = sidecar_of({"line": [{"numbers": [1], "role": "sew line"}]}, "a.toml")
    with pytest.raises(FormatError, match=r"you said that number 1, .*take that \[\[line\]\] out"):
        import_pieces(file, ReadingChoices(), decided)


def test_two_entries_for_one_mark() -> None:
    """They are one entry, or refused where they contradict."""
    both = legend_of({"line": [{"layer": "a", "role": "piece"}, {"layer": "a", "material": "lining"}]}, "a.toml")
    assert both.rules == (LegendRule(LineMark("a"), "piece", "lining"),)
    with pytest.raises(FormatError, match=r"\[\[line\]\] 1 and 3 both say the role of layer 'a', each another"):
        legend_of({"line": [{"layer": "a", "role": r} for r in ("piece", "piece", "fold")]}, "a.toml")
