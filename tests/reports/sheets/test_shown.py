"""Answers that a notebook shows as their report."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reports.sheets import shown
from reports.sheets.shown import Shown, show_as

if TYPE_CHECKING:
    import pytest

    from reports.sheets.report import Report


class Answer(Shown):
    """An answer of a kind of its own."""


def test_nothing_is_shown_before_a_writer_is_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """A notebook then falls back on the plain words; once there is a writer, it is handed the answer."""
    monkeypatch.setattr(shown, "_WRITTEN_BY", {})
    monkeypatch.setattr(shown, "html_part", lambda report: f"<p>{report}</p>")
    assert Answer()._repr_html_() is None
    answer, handed = Answer(), []

    def write(given: Answer) -> Report:
        handed.append(given)
        return "a report"  # type: ignore[return-value]

    show_as(Answer, write)
    assert answer._repr_html_() == "<p>a report</p>"
    assert handed == [answer]
    assert Shown()._repr_html_() is None  # of that kind alone
