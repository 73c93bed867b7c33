"""Plans kept: found again by all that they follow from, and by nothing less."""

from __future__ import annotations

from typing import TYPE_CHECKING

from nesting.errors import CheckError
from reports.keep.plans import KeptPlans

if TYPE_CHECKING:
    from pathlib import Path

    import pytest

ASKED = ([1.0, 2.0], {("rust", "S"): 3}, "shears")


def test_a_plan_is_found_by_what_it_follows_from(tmp_path: Path) -> None:
    """The same question finds it; another number, key or way to lay markers does not."""
    kept = KeptPlans(tmp_path, (1.0, None))
    kept.keep("rib", ASKED, {"cuts": [1, 2.5]})
    assert kept.get("rib", ASKED, dict) == {"cuts": [1, 2.5]}
    assert KeptPlans(tmp_path, (1.0, None)).get("rib", ASKED, dict)
    for other in (([1.0, 2.0000001], *ASKED[1:]), (ASKED[0], {("rust", "M"): 3}, "shears")):
        assert kept.get("rib", other, dict) is None
    assert kept.get("rolls", ASKED, dict) is None
    assert KeptPlans(tmp_path, (2.0, None)).get("rib", ASKED, dict) is None
    assert KeptPlans(None).get("rib", ASKED, dict) is None


def test_another_version_of_the_program_plans_anew(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A plan of an earlier version is not used."""
    kept = KeptPlans(tmp_path)
    kept.keep("rib", ASKED, [1])
    monkeypatch.setattr("reports.keep.digest.version", lambda name: "0.0.0")
    assert kept.get("rib", ASKED, list) is None


def test_what_is_damaged_or_does_not_hold_is_not_used(tmp_path: Path) -> None:
    """One number changed in the file, half a file, or a plan that fails its check."""
    kept = KeptPlans(tmp_path)
    kept.keep("rib", ASKED, [123])
    (path,) = tmp_path.iterdir()
    whole = path.read_text()

    def refuse(plain: object) -> None:
        raise CheckError("does not hold")

    assert kept.get("rib", ASKED, refuse) is None and kept.get("rib", ASKED, list) == [123]
    for broken in (whole.replace("123", "124"), whole[:-9], "[]"):
        path.write_text(broken)
        assert kept.get("rib", ASKED, list) is None
