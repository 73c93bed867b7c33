"""What a person sees and can do while a search runs."""

from __future__ import annotations

import os
import signal
from signal import Signals
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import pytest
from pytest import CaptureFixture, MonkeyPatch

from pieces.units import Units
from reports.batch.progress import Bars, Interrupt

if TYPE_CHECKING:
    from collections.abc import Iterator


@pytest.fixture
def unshielded() -> Iterator[None]:
    """Begun by `nohup` or not: the end of the terminal ends the program, as usual."""
    before = signal.signal(signal.SIGHUP, signal.SIG_DFL)
    yield
    signal.signal(signal.SIGHUP, before)


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_interrupt(number: Signals, unshielded: None) -> None:
    """The first signal asks the search to stop, the second ends the program; afterwards all is as it was."""
    before = signal.getsignal(number)
    with Interrupt() as interrupt:
        assert not interrupt(1000.0)
        os.kill(os.getpid(), number)
        assert interrupt(1000.0)
        assert interrupt.signal == number
        with pytest.raises(KeyboardInterrupt):
            os.kill(os.getpid(), number)
    assert signal.getsignal(number) is before


def test_shielded() -> None:
    """A program that `nohup` shields from the end of its terminal searches on."""
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        with Interrupt() as interrupt:
            os.kill(os.getpid(), signal.SIGHUP)
            assert not interrupt(1000.0)
    finally:
        signal.signal(signal.SIGHUP, before)


def test_no_interrupt() -> None:
    """Without a signal the number of the signal is 0."""
    with Interrupt() as interrupt:
        pass
    assert interrupt.signal == 0


@pytest.mark.parametrize(
    ("units", "length", "least"), [(Units.INCHES, "1 1/8 yd", "35 3/8 in"), (Units.METRIC, "1.00 m", "90 cm")]
)
def test_best(units: Units, length: str, least: str) -> None:
    """The bar of a cloth names it as written, and says the best length so far, and a bound, as the job writes them."""
    with Bars(5, True, units, quiet=True) as bars:
        listener = bars.listener("twill [b], open")
        best: Any = SimpleNamespace(length=1000.0)
        listener.on_best(best)
        listener.on_step(7, 2.5)
        listener.on_bound(900.0)
        (task,) = bars._progress.tasks
    assert task.description == f"twill [b], open: {length}; at least {least}"
    assert (task.completed, task.total) == (2.5, 5)


def test_bars_of_a_share_and_of_a_proof() -> None:
    """A spread that gets a third of the search fills a bar of a third; of a proof nobody knows how long it takes."""
    with Bars(6, False, Units.INCHES, quiet=True) as bars:
        bars.listener("twill", "open", share=1 / 3)
        bars.listener("twill", "open", share=None)
        totals = [(task.description, task.total) for task in bars._progress.tasks]
    assert totals == [("twill, open", 2.0), ("twill, open, proving", None)]


def test_shown(monkeypatch: MonkeyPatch, capsys: CaptureFixture[str]) -> None:
    """On a terminal the bar stands on stderr with the name as written; stdout stays free."""
    monkeypatch.setenv("FORCE_COLOR", "1")
    monkeypatch.setenv("COLUMNS", "120")
    with Bars(5, True, Units.INCHES) as bars:
        bars.listener("twill [b], open").on_note("a note")
    said = capsys.readouterr()
    assert said.out == ""
    assert "twill [b], open" in said.err
    assert "a note" in said.err


def test_no_terminal(monkeypatch: MonkeyPatch, capsys: CaptureFixture[str]) -> None:
    """Where stderr is no terminal no bar is drawn; a note is still told."""
    monkeypatch.delenv("FORCE_COLOR", raising=False)
    with Bars(5, True, Units.INCHES) as bars:
        bars.listener("twill").on_step(1, 1.0)
        assert capsys.readouterr() == ("", "")
        bars.listener("twill").on_note("a note")
    assert capsys.readouterr() == ("", "a note\n")


def test_quiet(monkeypatch: MonkeyPatch, capsys: CaptureFixture[str]) -> None:
    """Where it should be quiet nothing at all is told, even on a terminal."""
    monkeypatch.setenv("FORCE_COLOR", "1")
    with Bars(5, True, Units.INCHES, quiet=True) as bars:
        listener = bars.listener("twill")
        listener.on_step(1, 1.0)
        listener.on_note("a note")
    assert capsys.readouterr() == ("", "")
