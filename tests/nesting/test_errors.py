"""Errors of cloth: their builtin parents, and the figures they bear."""

from __future__ import annotations

import pytest

from nesting import errors


@pytest.mark.parametrize(
    ("name", "builtin"),
    [
        ("PieceTooWideError", ValueError),
        ("NoFoldError", ValueError),
        ("SpreadError", ValueError),
        ("StripTooShortError", ValueError),
        ("RemnantError", ValueError),
        ("LayPlanError", ValueError),
        ("CheckError", AssertionError),
        ("WrongMarkerError", AssertionError),
    ],
)
def test_caught_as_ours_and_as_a_builtin(name: str, builtin: type[Exception]) -> None:
    """Who knows nothing of this package catches them all the same."""
    assert issubclass(getattr(errors, name), errors.NestingError)
    assert issubclass(getattr(errors, name), builtin)


def test_a_piece_too_wide_bears_its_figures() -> None:
    """What it needs is rounded up, what there is down; both can be had as numbers."""
    error = errors.PieceTooWideError("sleeve", 471.2, 368.4, "'canvas' folded", "lay it open")
    assert (error.name, error.needs, error.usable) == ("sleeve", 471.2, 368.4)
    assert "'sleeve'" in str(error) and "472 mm" in str(error) and "368 mm" in str(error)
    assert str(error).endswith("lay it open")


def test_a_wrong_marker_is_our_fault() -> None:
    """It says so, with the reason."""
    error = errors.WrongMarkerError("two left sleeves")
    assert error.reason == "two left sleeves"
    assert "two left sleeves" in str(error) and "report" in str(error)
