"""What has changed since an answer was found, field by field; an answer that goes on from another; kept answers."""

from __future__ import annotations

import copy
import tomllib
from typing import TYPE_CHECKING, Any

import pytest

from reports.errors import MissingError, StateError
from reports.page.answers.changes import changes
from reports.page.searches.queue import Searches
from reports.page.work_folder import BEFORE
from tests.make import fake_search as fake
from tests.make.model import MODEL
from tests.make.orders import TEMPLATE
from tests.reports.page.searches.test_queue import ended

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from reports.page.store.store import Store

JOB = tomllib.loads(MODEL)


def since(
    edit: Callable[..., Any],
    job: dict[str, dict[str, str] | list[dict[str, bool | str]] | list[dict[str, str]] | str] = JOB,
) -> dict[Any, Any]:
    """What has changed in a job, as `{name: (was, now)}`."""
    now = copy.deepcopy(job)
    edit(now)
    return {change.name: (change.was, change.now) for change in changes({"job": job}, {"job": now})}


def test_nothing() -> None:
    """The same written otherwise is the same: other units, keys in another order, defaults written out."""

    def rewritten(job: Any) -> None:
        job["units"] = "cm"
        job["fabric"][0] = dict(reversed(job["fabric"][0].items())) | {"width": "152.4 cm", "end_allowance": "1 cm"}
        job["body"]["bust"] = f"{float(job['body']['bust'].split()[0]) * 2.54} cm"
        job["garments"] = 1

    assert since(rewritten) == {}


def test_fields() -> None:
    """Each field says what it is called in the trade, what it was and what it is."""
    cloth = JOB["fabric"][0]["name"]

    def changed(job: Any) -> None:
        job["body"]["bust"] = "43 in"
        job["style"]["closure"] = "zip"
        job["garments"] = 3
        job["fabric"][0] |= {"width": "58 in", "spread": "fold-then-open", "nap": True}
        del job["fabric"][0]["price"]
        job["fabric"].insert(0, {"name": "denim", "width": "45 in"})
        job["rib"] = []

    assert since(changed) == {
        "bust": (JOB["body"]["bust"], "43 in"),
        "closure": ("buttons", "zip"),
        "how many": ("1", "3"),
        f"cloth '{cloth}': width": ("60 in", "58 in"),
        f"cloth '{cloth}': spread": ("folded lengthwise", "folded lengthwise, then opened out"),
        f"cloth '{cloth}': nap": ("no", "yes"),
        f"cloth '{cloth}': price": ("14.00 / yd", "not given"),
        "cloth 'denim'": ("not there", "added"),
        f"rib '{JOB['rib'][0]['name']}'": ("there", "taken out"),
    }


def test_renamed() -> None:
    """A cloth called otherwise is the same cloth, its name changed."""
    old = JOB["fabric"][0]["name"]
    assert since(lambda job: job["fabric"][0].update(name="denim")) == {"cloth 'denim': name": (old, "denim")}


def test_orders() -> None:
    """An order as text is the same as data; changes of quantities and rates are told, and that there is none now."""
    was = {"order": TEMPLATE}
    now = tomllib.loads(TEMPLATE)
    assert changes(was, {"order": now}) == []
    now["quantity"]["rust"]["M"] += 1
    now["pricing"]["rate"] = "21.00 / h"
    told = {change.field: (change.name, change.was, change.now) for change in changes(was, {"order": now})}
    assert told == {
        "quantity.rust.M": ("rust, size M", "7", "8"),
        "pricing.rate": ("rate", "19.00 / h", "21.00 / h"),
    }
    assert [change.name for change in changes(was, {"order": None})] == ["order"]
    assert [change.now for change in changes(was, {"order": "no = toml ="})] == ["changed"]


@pytest.fixture
def searches(store: Store) -> Iterator[Searches]:
    """One worker."""
    made = Searches(store, fake.task, fake.check, workers=1)
    yield made
    made.close()


def test_better_than(searches: Searches, store: Store) -> None:
    """What is to be better than an answer is given it, and keeps only its id; another job's answer is refused."""
    first = ended(searches.submit("buy", {"job": {"steps": 1}}))
    better = ended(searches.submit("buy", {"job": {"steps": 1}, "better_than": first.id}))
    assert better.payload[BEFORE] == first.result
    assert store.search(better.id)["payload"] == {"job": {"steps": 1}, "better_than": first.id}
    with pytest.raises(StateError, match="steps has changed since that answer: find what to buy again"):
        searches.submit("buy", {"job": {"steps": 2}, "better_than": first.id})
    with pytest.raises(MissingError):
        searches.submit("buy", {"job": {}, "better_than": "none"})
    failed = ended(searches.submit("buy", {"job": {"fail": True}}))
    with pytest.raises(StateError, match="no answer to improve"):
        searches.submit("buy", {"job": {"fail": True}, "better_than": failed.id})


def test_kept_answers_stay_as_they_are(searches: Searches, store: Store) -> None:
    """A layout made by hand takes the place of its answer, but of one that was kept: beside that it has its own id."""
    plain, kept = (ended(searches.submit("buy", {"job": {}})) for _ in range(2))
    store.add_project("a", {"answers": {"buy": {"search": plain.id}}, "kept": [{"search": kept.id, "title": "1 yd"}]})
    assert searches.keep(plain.id, {"by": "hand"}).id == plain.id
    made = searches.keep(kept.id, {"by": "hand"})
    assert made.id != kept.id
    assert store.search(plain.id)["result"] == store.search(made.id)["result"] == {"by": "hand"}
    assert store.search(kept.id)["result"] == searches.find(kept.id).result == {"best": 1000, "whole": True}
