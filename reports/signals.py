"""Signals: the work ends with one line, and leaves no half file."""

from __future__ import annotations

import atexit
import os
import signal
import sys
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from types import FrameType

PATIENCE = 2.0
"""Seconds for tidying up once a signal has come; then the program ends all the same."""

ENDED = "ellwand: interrupted before all was done; no file is half written"

_echo: Any = None

_is_told = False


def end(number: int, frame: FrameType | None = None) -> None:
    """End at once, with one line on stderr: no process is left, no file half written.

    The program does not unwind: an exception in the midst of an import, or of code that is not Python's, could be
    swallowed, or turned into another with a trace.
    """
    answer_signals(signal.SIG_IGN)
    try:
        _tidy_up(128 + number)
    finally:
        os._exit(128 + number)


def ending() -> list[int]:
    """Signals that end the program: Ctrl-C, SIGTERM, and a terminal that is closed, unless `nohup` shields from it."""
    hung_up = [signal.SIGHUP] if hasattr(signal, "SIGHUP") else []
    return [signal.SIGINT, signal.SIGTERM, *(n for n in hung_up if signal.getsignal(n) is not signal.SIG_IGN)]


def say(line: str) -> None:
    """Say one line on stderr; where it cannot be written there, the exit code says enough."""
    try:
        print(line, file=sys.stderr, flush=True)
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), 2)  # what is left in the buffer goes there as the program ends


def tell(line: str) -> None:
    """Say on stderr that a signal has cut the work short; `end` does not say so again."""
    global _is_told
    say(line)
    _is_told = True


def require_output() -> None:
    """Make sure that there is somewhere to write to: a closed stdout is told at once, before any work is done.

    Descriptors that are closed are opened on nothing, so that no file takes their numbers.
    """
    if sys.stderr is None:
        _open_on_nothing(2)
        sys.stderr = open(2, "w", closefd=False)  # noqa: SIM115 - for as long as the program runs
    if sys.stdout is None:
        _open_on_nothing(1)
        say("ellwand: standard output is closed, and the answer goes there: leave it open, or send it to a file")
        sys.exit(2)


def _open_on_nothing(number: int) -> None:
    nothing = os.open(os.devnull, os.O_WRONLY)
    if nothing != number:
        os.dup2(nothing, number)


def answer_signals(answer: Any) -> None:
    """Let all signals that end the program be answered so."""
    for number in ending():
        signal.signal(number, answer)


def _tidy_up(code: int) -> None:
    import threading

    output, processes = sys.modules.get("reports.output"), sys.modules.get("multiprocessing")
    for path in list(getattr(output, "unfinished", ())):  # it may be in the midst of its import
        path.unlink(missing_ok=True)
    _leave_terminal()
    if not _is_told:
        say(ENDED)
    late = threading.Timer(PATIENCE, os._exit, (code,))
    late.daemon = True
    late.start()
    for process in getattr(processes, "active_children", list)():
        process.kill()
    atexit._run_exitfuncs()  # noqa: SLF001 - as at any other end: what others have left behind is removed


def remember_terminal() -> None:
    """Whether the terminal shows what is typed, which it must again if a password was being asked for."""
    global _echo
    try:
        import termios

        _echo = termios.tcgetattr(0)
    except (ImportError, OSError, ValueError, termios.error):
        _echo = None


def _leave_terminal() -> None:
    """Leave the terminal as it was found: a bar's line cleared, the cursor shown, and what is typed as well."""
    if os.isatty(2):
        os.write(2, b"\r\x1b[2K\x1b[?25h")
    if _echo is not None:
        import termios

        termios.tcsetattr(0, termios.TCSANOW, _echo)
