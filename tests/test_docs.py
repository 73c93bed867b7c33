"""README and GLOSSARY say what is true."""

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_set_up_is_two_one_line_commands() -> None:
    """README's set-up block holds the two commands that CI runs, and no others."""
    block = README.split("```")[1].strip().splitlines()
    assert block == [line for line in README.splitlines() if line.startswith("python3 -m venv")]
    assert [line.split(" && ")[-1] for line in block] == [".venv/bin/ellwand demo", ".venv/bin/pytest"]


def test_python_example_runs() -> None:
    """README's Python example runs as printed, and tells length, density and bound."""
    code = re.search(r"```python\n(.*?)```", README, re.DOTALL)
    assert code is not None
    example = code[1].replace("MaxRuntime(1.0)", "MaxRuntime(0.0)")
    assert example != code[1]
    done = subprocess.run([sys.executable, "-c", example], capture_output=True, text=True, check=True, cwd=ROOT)
    assert all(word in done.stdout for word in ("length", "density", "at least"))


def test_answer_shown_is_the_answer() -> None:
    """README shows the answer to the job that `new` writes: its rib to the letter, its cloth by name, its bounds.

    Bounds are those of the effort that `buy` takes unless told otherwise: counted work, so that they repeat.
    """
    from nesting import MaxIterations
    from reports.ask.job import parse_job
    from reports.plan.answers import Effort
    from reports.plan.effort import SearchOptions
    from reports.plan.plan import plan_job
    from reports.plan.words import answer_lines

    block = re.search(r"```text\n(.*?)```", README, re.DOTALL)
    assert block is not None
    template = (ROOT / "reports" / "templates" / "job.toml").read_text(encoding="utf-8")
    effort = Effort(lambda: MaxIterations(0), proof=SearchOptions(None, None, 0, 1).proof)
    answered = "\n".join(answer_lines(plan_job(parse_job(template), effort)))
    rib = [line for line in answered.splitlines() if "rib" in line]
    assert len(rib) == 3
    assert [line for line in block[1].splitlines() if "rib" in line] == rib
    for told in (r"Buy .* yd of (.*) for [\d.]+: .*\.", r"No marker can be shorter than .*?\)"):
        assert len(re.findall(told, answered)) >= 2
        assert re.findall(told, block[1]) == re.findall(told, answered)


def test_commands_named_are_commands() -> None:
    """Every `ellwand WORD` in README is a command that there is."""
    from reports.cli import app

    known = {command.name or command.callback.__name__ for command in app.registered_commands if command.callback}
    named = set(re.findall(r"(?:^|/|`)ellwand (\w+)", README, re.MULTILINE))
    assert named
    assert named <= known
    assert known - {"demo"} <= named


def test_exit_codes_are_told() -> None:
    """README's table of exit codes has those the command gives."""
    assert set(re.findall(r"^\| (\d+(?:, \d+)*) \|", README, re.MULTILINE)) == {"0", "1", "2", "70", "130, 143", "141"}


def test_glossary_has_each_term_once_in_order() -> None:
    """GLOSSARY lists each trade term once, in alphabetical order."""
    rows = re.findall(r"^\| ([a-z][^|]*?) \|", (ROOT / "GLOSSARY.md").read_text(encoding="utf-8"), re.MULTILINE)
    terms = [term for term in rows if term != "term"]
    assert len(terms) > 40
    assert terms == sorted(set(terms))
