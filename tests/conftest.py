"""Shared set-up: the model body and jacket, and Hypothesis without a deadline (a kernel's first call compiles it)."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings

from pieces import GARMENTS, Body, PieceSet
from pieces.garments import JacketStyle
from tests.nesting.instances import MISSING

EXAMPLES = int(os.environ.get("ELLWAND_EXAMPLES", "50"))
"""Of each property, where its test does not say; more by hand."""

settings.register_profile("ellwand", deadline=None, max_examples=EXAMPLES, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("ellwand")

INCH = 25.4


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say loudly, at the end, that tests were left out for want of the open nesting instances."""
    skipped = terminalreporter.stats.get("skipped", [])
    without = [report for report in skipped if MISSING in str(report.longrepr)]
    if without:
        terminalreporter.write_line(f"{len(without)} tests left out: {MISSING}", yellow=True, bold=True)


@pytest.fixture(scope="session")
def body() -> Body:
    """The body of the check values: common practice, no source."""
    return Body(
        bust=42 * INCH,
        hip=48 * INCH,
        across_shoulder=17 * INCH,
        neck=15 * INCH,
        upper_arm=16 * INCH,
        wrist=8.5 * INCH,
        armhole_depth=10.5 * INCH,
    )


@pytest.fixture(scope="session")
def style() -> JacketStyle:
    """The style of the check values: common practice, no source."""
    return JacketStyle(length=30 * INCH, sleeve=22 * INCH, ease=5 * INCH, seam=INCH / 2)


@pytest.fixture(scope="session")
def jacket(body: Body, style: JacketStyle) -> PieceSet:
    """The jacket of the check values."""
    return GARMENTS["rib-jacket"].draft(body, style)


@pytest.hookimpl(tryfirst=True)
def pytest_cmdline_main(config: pytest.Config) -> None:
    """Run all tests on all cores, where nothing else is asked for; a file or two sooner begin in this process."""
    if "PYTEST_XDIST_WORKER" in os.environ:  # a worker that begot workers of its own would never end
        return
    option = config.option
    is_whole = config.args_source is pytest.Config.ArgsSource.TESTPATHS
    # Coverage has settled by now how it counts: with workers it must be told of them, as `.ci/run` does.
    is_free = option.numprocesses is None and not option.usepdb and not getattr(option, "cov_source", None)
    if config.pluginmanager.hasplugin("xdist") and is_whole and is_free:
        option.numprocesses = "auto"
