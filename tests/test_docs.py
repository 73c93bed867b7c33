"""README, help and GLOSSARY say what is true."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from importlib.resources import files
from os.path import normpath
from pathlib import Path
from typing import TYPE_CHECKING
from xml.etree import ElementTree

import pytest

from tests.make.documents import ANSWER, heads

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).parents[1]
HELP = ROOT / "reports" / "help"
PAGES = sorted(HELP.glob("*.md"))
DOCUMENTS = [ROOT / "README.md", *PAGES]
MANUALS = [*DOCUMENTS, *(ROOT / name for name in ("GLOSSARY.md", "DEVELOPERS.md", "CHANGELOG.md"))]

README = (ROOT / "README.md").read_text(encoding="utf-8")
ALL = "\n".join(path.read_text(encoding="utf-8") for path in DOCUMENTS)

WIDEST = 100
"""Letters of a line."""

ODD = re.compile(r"\b(of which|it is said|whatever|whoever)\b", re.IGNORECASE)
"""Turns of phrase that take a second reading."""

BLOCK = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"\[[^\]]+\]\((?!https://)([^)#]*)(?:#([^)]*))?\)")


def page(name: str) -> str:
    """A page of the help."""
    return (HELP / f"{name}.md").read_text(encoding="utf-8")


def blocks(text: str, language: str) -> list[str]:
    """What stands in blocks of a language."""
    return [block for named, block in BLOCK.findall(text) if named == language]


def commands() -> Iterator[list[str]]:
    """Each command that README or a page of the help shows, in its parts."""
    for block in blocks(ALL, ""):
        lines = block.replace("\\\n", " ").splitlines()
        yield from (shlex.split(line, comments=True)[1:] for line in lines if line.startswith("ellwand "))


def test_set_up_is_two_one_line_commands() -> None:
    """README's set-up block holds the two commands that CI runs, and no others."""
    block = README.split("```")[1].strip().splitlines()
    assert block == [line for line in README.splitlines() if line.startswith("python3 -m venv")]
    assert [line.split(" && ")[-1] for line in block] == [".venv/bin/ellwand demo", ".venv/bin/pytest"]


def test_readme_is_short() -> None:
    """README is read in two minutes; all else is in the help."""
    assert len(README.splitlines()) <= 130


@pytest.mark.parametrize("path", MANUALS, ids=lambda path: path.name)
def test_lines_are_short(path: Path) -> None:
    """No line is longer than 100 letters, but for answers shown as the program writes them."""
    text = ANSWER.sub("", path.read_text(encoding="utf-8"))
    assert [line for line in text.splitlines() if len(line) > WIDEST] == []


@pytest.mark.parametrize("path", MANUALS, ids=lambda path: path.name)
def test_words_are_plain(path: Path) -> None:
    """No sentence has a turn of phrase that takes a second reading."""
    assert ODD.findall(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", MANUALS, ids=lambda path: path.name)
def test_links_lead_somewhere(path: Path) -> None:
    """Each link leads to a file that there is, and to a heading in it; the help, installed alone, links to itself."""
    from reports.help.markup import anchor

    for link, heading in LINK.findall(path.read_text(encoding="utf-8")):
        file = Path(normpath(path.parent / link)) if link else path
        assert file.is_file(), link
        assert path not in PAGES or file.parent == HELP, link
        headings = re.findall(r"^#+ (.*)", file.read_text(encoding="utf-8"), re.MULTILINE) if heading else []
        assert not heading or heading in map(anchor, headings), heading


def test_pictures_are_small() -> None:
    """The pictures of the documents are shown, described, and lighter than 150 kB each."""
    shown = set(re.findall(r"!\[[^\]]{20,}\]\((?:reports/help/)?([\w.-]+)\)", ALL))
    pictures = {path for path in HELP.iterdir() if path.suffix in (".svg", ".png")}
    assert {path.name for path in pictures} == shown == {"marker.svg", "measures.svg", "page.png"}
    assert all(path.stat().st_size < 150_000 for path in pictures)


def test_python_example_runs() -> None:
    """The Python example runs as printed, and tells length, density and bound."""
    (code,) = blocks(ALL, "python")
    example = code.replace("MaxRuntime(1.0)", "MaxRuntime(0.0)")
    assert example != code
    done = subprocess.run([sys.executable, "-c", example], capture_output=True, text=True, check=True, cwd=ROOT)
    assert all(word in done.stdout for word in ("length", "density", "at least"))


def test_answer_shown_is_the_answer() -> None:
    """The help shows the answer to the job that `new` writes: its rib to the letter, its cloth by name, its bounds.

    README shows the lines of it that stand by themselves.
    Bounds are those of the effort that `buy` takes unless told otherwise: counted work, so that they repeat.
    """
    from reports.ask.job import parse_job
    from reports.plan.effort import Effort
    from reports.plan.plan import plan_job
    from reports.plan.words import answer_lines

    (block,) = blocks(page("buy"), "text")
    template = (ROOT / "reports" / "templates" / "job.toml").read_text(encoding="utf-8")
    answered = "\n".join(answer_lines(plan_job(parse_job(template), Effort())))
    rib = [line for line in answered.splitlines() if "rib" in line]
    assert len(rib) == 3
    said = block.partition("Shopping list")[0]
    assert [line for line in said.splitlines() if "rib" in line] == rib
    for told in (r"Buy .* yd of (.*) for [\d.]+: .*\.", r"No marker can be shorter than .*?\)"):
        assert len(re.findall(told, answered)) >= 2
        assert re.findall(told, block) == re.findall(told, answered)
    assert blocks(README, "text") == [heads(block) + "\n"]


def test_together_shown_adds_up() -> None:
    """The job with several garments is one that is read; README ends its answer as the help does; lengths add up."""
    from pieces.units import parse_length
    from reports.ask.draft import draft_whole
    from reports.ask.job import parse_job

    (block,), (job,) = blocks(page("together"), "text"), blocks(page("together"), "toml")
    drafted = draft_whole(parse_job(job))
    whole = re.search(r"Together: (.*?) of .* One at a time: (.*?) \((.*?)\)", block)
    saved = re.search(r"Laying them together saves (.*) and [\d.]+\.$", block.strip())
    assert whole is not None
    assert saved is not None
    assert f"*{saved[0]}*" in README
    together, alone, less = (parse_length(told) for told in (whole[1], whole[2], saved[1]))
    assert alone - together == pytest.approx(less)
    each = {one.label: one.quantity for one in drafted.members}
    taken = [re.fullmatch(r"(\w+) (?:(\d+) × )?(.*)", one) for one in whole[3].split(", ")]
    assert {one[1]: int(one[2] or 1) for one in taken if one} == each
    assert sum(int(one[2] or 1) * parse_length(one[3]) for one in taken if one) == pytest.approx(alone)


def test_marker_shown_is_the_answers() -> None:
    """The picture of a marker says what the answer beside it says of the first cloth."""
    (block,) = blocks(page("buy"), "text")
    written = [line.strip() for line in ElementTree.parse(HELP / "marker.svg").getroot().itertext()]
    told = re.search(r"^(Buy .*?) of (.*) for .*\n  .*?(\d[^(]*? in) \(", block)
    assert told is not None
    assert told[1] in written
    assert all(any(words in line for line in written) for words in (told[2], told[3]))


def test_commands_named_are_commands() -> None:
    """Every `ellwand WORD` in README and help is a command that there is."""
    from reports.commands.table import all_commands

    known = {command.name for command in all_commands()}
    for text in (README, ALL):
        named = set(re.findall(r"(?:^|/|`)ellwand (\w+)", text, re.MULTILINE)) - {"COMMAND"}
        assert named
        assert named <= known
        assert known - {"demo"} <= named


def test_commands_shown_are_understood() -> None:
    """Every command shown is understood as it stands: each option, and each value of one."""
    import typer

    from reports.commands.cli import command_line

    group = typer.main.get_command(command_line())
    shown = list(commands())
    assert len(shown) > 30
    for name, *arguments in shown:
        context = group.make_context("ellwand", [name, *arguments])
        _, command, rest = group.resolve_command(context, [name, *arguments])  # type: ignore[attr-defined]
        if hasattr(command, "commands"):  # one of several actions
            context = command.make_context(name, rest, parent=context)
            name, command, rest = command.resolve_command(context, rest)
        assert command.make_context(name, rest, parent=context).info_name == name


def test_options_named_are_options() -> None:
    """Every option that README or help names is one of some command's."""
    import typer

    from reports.commands.cli import command_line

    group = typer.main.get_command(command_line())
    commands = group.commands.values()  # type: ignore[attr-defined]
    known = {
        option
        for command in [*commands, *(one for each in commands for one in getattr(each, "commands", {}).values())]
        for parameter in command.params
        for option in (*parameter.opts, *parameter.secondary_opts)
    }
    named = set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", ALL)) - {"--help"}
    assert len(named) > 30
    assert named <= known


def test_first_commands_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """README's commands work one after another, and `buy` writes the files that its page lists."""
    from reports.commands.cli import command_line

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("reports.draw.kit.files.save", lambda figure, path: path.touch())
    shown = [shlex.split(line, comments=True)[1:] for line in blocks(README, "")[2].splitlines()]
    assert [name for name, *_ in shown] == ["new", "buy"]
    for command in shown:
        command_line()([*command, *(["--effort", "0"] if command[0] == "buy" else [])], standalone_mode=False)
    listed = set()
    for cell in re.findall(r"^\| (`.*`) \|", page("buy"), re.MULTILINE):
        first, *others = re.findall(r"`([^`]+)`", cell)
        listed |= {first, *(other if "." in other[1:] else Path(first).stem + other for other in others)}
    written = {path.name.replace("-2.", "-1.") for path in (tmp_path / "jacket").iterdir()}
    assert listed == written


def test_exit_codes_are_told() -> None:
    """The table of exit codes has those the command gives."""
    told = re.findall(r"^\| (\d+(?:, \d+)*) \|", ALL, re.MULTILINE)
    assert set(told) == {"0", "1", "2", "70", "130, 143", "141"}


def test_spreads_are_told() -> None:
    """The page on how cloth lies has a line for each spread, and for no other."""
    from typing import get_args

    from nesting.cloth.spread import Spread

    assert set(re.findall(r"^- `([\w-]+)`:", page("spread"), re.MULTILINE)) == {*get_args(Spread), "best"}


def test_figures_are_those_of_the_code() -> None:
    """Figures that the help gives of the program are the program's."""
    from nesting.folds.depth import MOST_DEPTHS
    from nesting.tolerance import TOLERANCE
    from reports.convert.published import AS_WIDE, published
    from reports.left.left import LEAST_SIDE, LEAST_STRIP
    from reports.paper.size import LONGEST
    from reports.plan.effort import USUAL
    from reports.plan.settling import SIMPLE_ENOUGH
    from reports.questions import QUESTIONS

    assert {(one.usual.amount, one.usual.seconds) for one in QUESTIONS} == {(USUAL, None)}
    assert f"gets an effort of {USUAL:g}:" in page("buy")
    assert f"same effort: {USUAL:g}, as in" in " ".join(page("chart").split())
    assert f"By default it is {USUAL:g}, in every command" in " ".join(page("options").split())
    assert f"up to {MOST_DEPTHS} depths" in page("spread")
    assert f"at most {SIMPLE_ENOUGH * 100:g} % more" in " ".join(page("spread").split())
    assert f"to {TOLERANCE:g} mm" in page("check")
    assert f"longer than {LONGEST / 1000:g} m" in " ".join(page("print").split())
    left, convert = (" ".join(page(name).split()) for name in ("left", "convert"))
    assert f"side shorter than {LEAST_SIDE / 25.4:g} in" in left
    assert f"shorter than {LEAST_STRIP / 25.4:g} in are left out" in left
    assert f"within {AS_WIDE / 10:g} cm" in convert
    columns = published()[0].columns
    assert f"({columns[0].low / 25.4:.0f} to {columns[-1].high / 25.4:.0f} in)" in convert


def test_layers_are_told() -> None:
    """The page on files for others names each layer of DXF and each group of SVG that there is."""
    from reports.export.dxf import MARKER_LAYERS, PIECE_LAYERS
    from reports.export.svg import ROLES

    pieces, markers = page("export").split("## Markers")
    numbers = re.search(r"on layers by number: (.*?)\.", " ".join(pieces.split()))
    assert numbers is not None
    assert set(re.findall(r"\d+", numbers[1])) == set(PIECE_LAYERS.values())
    assert set(re.findall(r"`([A-Z-]+)`", markers)) == set(MARKER_LAYERS.values())
    assert {role for role in ROLES if f"`{role}`" in pieces.split("- `svg`")[1] or f"`{role}`" in markers} == set(ROLES)


def test_paper_is_told() -> None:
    """Each sheet that the page on printing names is one, and the first and last of each range."""
    from reports.paper.size import NAMED

    told = re.search(r"`--paper` is (.*?), or two", " ".join(page("print").split()))
    assert told is not None
    assert set(re.findall(r"`([a-z0-9 ]+)`", told[1])) <= set(NAMED)


def test_help_is_installed() -> None:
    """All pages and pictures of the help are data of the package."""
    import tomllib

    told = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    patterns = told["tool"]["setuptools"]["package-data"]["reports"]
    there = {path.name for path in HELP.iterdir() if path.suffix not in (".py", "")}
    matched = {path.name for pattern in patterns for path in (ROOT / "reports").glob(pattern) if path.parent == HELP}
    assert there == matched
    assert there <= {path.name for path in files("reports.help").iterdir()}


def test_glossary_has_each_term_once_in_order() -> None:
    """GLOSSARY lists each trade term once, in alphabetical order."""
    text = (ROOT / "GLOSSARY.md").read_text(encoding="utf-8")
    terms = re.findall(r"^- \*\*([a-z][^*]*)\*\*: [A-Z]", text, re.MULTILINE)
    assert len(terms) == len(re.findall(r"^- ", text, re.MULTILINE))
    assert len(terms) > 40
    assert terms == sorted(set(terms))


def test_modules_are_named() -> None:
    """DEVELOPERS lists every folder and every module of the packages and of the page, and none that is not there."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    listed: dict[str, list[str]] = {}
    mapped = text[text.index("<!-- map -->") : text.index("<!-- end of map -->")]
    for entry in re.split(r"^- ", mapped, flags=re.MULTILINE)[1:]:
        folder, _, modules = " ".join(entry.split()).partition("/`**, ")
        named = re.sub(r"\([^)]*\)", "", modules.rpartition(": ")[2])
        listed[folder.removeprefix("**`")] = re.findall(r"`(\w+)`", named)
    there: dict[str, list[str]] = {}
    for package in ("pieces", "nesting", "reports"):
        for path in (ROOT / package).rglob("*.py"):
            there.setdefault(str(path.parent.relative_to(ROOT)), []).append(path.stem)
    for path in (ROOT / "reports" / "page" / "static" / "js").rglob("*.js"):
        there.setdefault(str(path.parent.relative_to(ROOT)), []).append(path.stem)
    assert listed == {folder: sorted(set(modules) - {"__init__"}) for folder, modules in there.items()}


def test_examples_of_import_and_grading_go_together(tmp_path: Path) -> None:
    """The table shown for import is graded by the rules shown: half an inch longer in L than in M."""
    from pieces.exchange.imported import ReadingChoices
    from pieces.exchange.own.grading import read_grading
    from pieces.exchange.read.reader import import_pieces

    (table,), (rules,) = blocks(page("import"), "csv"), [b for b in blocks(page("grading"), "toml") if "sizes" in b]
    (tmp_path / "bag.csv").write_text(table)
    (tmp_path / "grades.toml").write_text(rules)
    pieces = import_pieces(tmp_path / "bag.csv", ReadingChoices()).pieces
    grading = read_grading(tmp_path / "grades.toml")
    sizes = [grading.sized(pieces, size)["bag"] for size in ("M", "L")]
    assert [(round(bag.length / 25.4, 3), round(bag.width / 25.4, 3)) for bag in sizes] == [(12, 16), (12.5, 16)]
