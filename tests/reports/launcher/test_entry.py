"""Files of icons, read by rules written down anew from the open specification, and by the systems' own programs."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reports.errors import OutputError
from reports.launcher.entry import batch_script, desktop_entry, shell_script

PICTURE = Path("/opt/a b/icon.svg")
ODD = [
    ["/opt/made/bin/python3", "-P", "-m", "reports", "serve"],
    ["/opt/my programs/python3", "--folder", '/home/me/a "b" $c `d` \\e %f ~g; (h) & <i> #j *?'],
    ["/opt/Ärmel/python3", "--folder", "C:\\work"],
    ["/opt/python3", "", "'"],
]
ESCAPES = {"s": " ", "n": "\n", "t": "\t", "r": "\r", "\\": "\\"}
NEEDED = ("Type", "Name", "Exec")
UNQUOTED = re.compile(r"[^\s\"'\\><~|&;$*?#()`]+")
"""What may stand in an argument without quotes: none of the specification's reserved signs."""

SIGNS = st.text(st.characters(exclude_categories=["C", "Z"]) | st.just(" "), max_size=20)


def read_entry(text: str) -> dict[str, str]:
    """A desktop entry, read as chapters 3 to 5 of the Desktop Entry Specification say (from memory)."""
    lines = [line for line in text.split("\n") if line and not line.startswith("#")]
    assert lines[0] == "[Desktop Entry]"
    found = {}
    for line in lines[1:]:
        key, value = re.fullmatch(r"([A-Za-z0-9-]+)=(.*)", line).groups()
        assert key not in found
        assert re.fullmatch(r"([^\\]|\\[sntr\\])*", value), "no other sign may be escaped in a string"
        found[key] = re.sub(r"\\(.)", lambda sign: ESCAPES[sign[1]], value)
    assert found["Type"] == "Application"
    assert all(found.get(key) for key in NEEDED)
    assert found["Terminal"] in ("true", "false")
    assert all(found[key].endswith(";") for key in ("Categories", "Keywords"))
    return found


def arguments(line: str) -> list[str]:
    """The arguments of a value of `Exec`, as its chapter says: quoted ones, others, and codes that begin with %."""
    found, rest = [], line
    while rest:
        if quoted := re.match(r'"((?:[^"`$\\]|\\["`$\\])*)"(?: |$)', rest):
            found.append(re.sub(r"\\(.)", r"\1", quoted[1]))
            rest = rest[quoted.end() :]
        else:
            plain = re.match(rf"({UNQUOTED.pattern})(?: |$)", rest)
            assert plain, rest
            found.append(plain[1])
            rest = rest[plain.end() :]
    assert not any(re.search("%", argument.replace("%%", "")) for argument in found), "a code that asks for a file"
    assert "=" not in found[0]
    return [argument.replace("%%", "%") for argument in found]


@pytest.mark.parametrize("command", ODD)
def test_desktop_entry(command: list[str], tmp_path: Path) -> None:
    """An entry is one by the specification, and by the distribution's own validator; it runs what it was given."""
    text = desktop_entry(command, PICTURE)
    found = read_entry(text)
    assert arguments(found["Exec"]) == command
    assert (found["TryExec"], found["Icon"]) == (command[0], str(PICTURE))
    if validator := shutil.which("desktop-file-validate"):
        path = tmp_path / "ellwand.desktop"
        path.write_text(text, encoding="utf-8")
        said = subprocess.run([validator, path], capture_output=True, text=True, timeout=30)
        assert (said.returncode, said.stdout) == (0, "")


@given(st.lists(SIGNS, min_size=1, max_size=4))
def test_any_arguments(more: list[str]) -> None:
    """Whatever a folder is called, entry and shell get it as it is."""
    command = ["/bin/echo", *more]
    assert arguments(read_entry(desktop_entry(command, PICTURE))["Exec"]) == command


@pytest.mark.parametrize("command", ODD)
def test_shell_script(command: list[str], tmp_path: Path) -> None:
    """The script for macOS is one of sh (`sh -n`); what it runs gets each argument as it was given."""
    path = tmp_path / "Ellwand.command"
    path.write_text(shell_script(command, PICTURE), encoding="utf-8")
    subprocess.run(["sh", "-n", path], check=True, timeout=30)
    path.write_text(shell_script(["printf", "%s\\n", *command], PICTURE), encoding="utf-8")
    assert subprocess.run(["sh", path], capture_output=True, text=True, timeout=30).stdout.split("\n")[:-1] == command


@pytest.mark.parametrize("command", [ODD[0], ODD[2], ["C:\\100 %\\python.exe", "a & b"]])
def test_batch_script(command: list[str]) -> None:
    """The script for Windows, checked by its rules as far as they are known here (from memory).

    Lines end in CR LF and are short (8191 signs at most). Commands are not shown. Text is in UTF-8 once said so. A %
    stands for itself if it is doubled, and all other signs do between quotes.
    """
    text = batch_script(command, PICTURE)
    lines = text.split("\r\n")
    assert lines.pop() == ""
    assert not any(re.search(r"[\r\n]", line) or len(line) > 8191 for line in lines)
    assert lines[0] == "@echo off"
    assert all(line.isascii() for line in lines[: lines.index("chcp 65001 >nul")])
    run = lines[-1]
    assert re.fullmatch(r'"[^"]*"( "[^"]*")*', run)
    assert "%" not in run.replace("%%", "")
    assert [argument.replace("%%", "%") for argument in re.findall('"([^"]*)"', run)] == command


def test_refused() -> None:
    """What no entry or script can name is refused with what to do: line breaks, = in a program, quotes on Windows."""
    for make in (desktop_entry, shell_script, batch_script):
        with pytest.raises(OutputError, match="cannot be printed: choose another folder"):
            make(["/bin/x", "a\nb"], PICTURE)
    with pytest.raises(OutputError, match="install ellwand elsewhere"):
        desktop_entry(["/opt/a=b/python3"], PICTURE)
    with pytest.raises(OutputError, match="choose another folder"):
        batch_script(["x", 'a"b'], PICTURE)
