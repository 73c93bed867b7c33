"""The plan: which spread is taken, which offers will not do, and that a plan repeats."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

from nesting.edit.carry import carry
from nesting.errors import SpreadError, StripTooShortError
from nesting.search.listener import Listener
from nesting.search.solver import solve
from nesting.search.stop import Interrupted
from pieces.errors import DraftError
from reports.ask.draft import draft_job
from reports.ask.job import parse_job
from reports.ask.offer import ALL_SPREADS
from reports.errors import JobError, NothingWillDoError
from reports.plan.answers import FabricPlan, Refusal, RibAnswer
from reports.plan.best import best_of
from reports.plan.effort import Effort
from reports.plan.one_cloth import HELD
from reports.plan.plain import plan_to_plain
from reports.plan.plan import Plan, plan_job
from reports.plan.problems import spread_problem
from tests.make.model import HEAD, MODEL, RIB, edited, with_fabrics

if TYPE_CHECKING:
    from nesting.cloth.spread import Spread

WIDE, NARROW = 'width = "60 in"\nnap = true', 'name = "tape"\nwidth = "10 in"'

SOLD = (("dear", 9), ("cheap", 8))
"""Cloths and what a yard of them costs."""


def plan(text: str, effort: float = 0, seed: int = 0, **options: Any) -> Plan:
    """The plan of a job, searched by count."""
    return plan_job(parse_job(text), Effort(effort, seed=seed, proof=0), **options)


def test_best() -> None:
    """Of all spreads least is bought; of those the simplest is taken, and a shorter one stands beside it, named so."""
    (fabric,) = plan(with_fabrics('width = "72 in"\nspread = "best"\nselvedge = "1/2 in"')).fabrics
    assert {fabric.spread, *(passed.spread for passed in fabric.passed_over)} == set(ALL_SPREADS)
    others = [passed for passed in fabric.passed_over if passed.purchase]
    assert others
    assert fabric.purchase.buy <= min(passed.purchase.buy for passed in others if passed.purchase)
    simpler = ALL_SPREADS[: ALL_SPREADS.index(fabric.spread)]
    alike = [one.spread for one in others if one.purchase and one.purchase.buy <= fabric.purchase.buy]
    assert not set(simpler) & set(alike)
    shorter = [one for one in others if (one.length or 0.0) < fabric.result.marker.cloth_length - 1]
    assert fabric.shortest == (min(shorter, key=lambda one: one.length or 0.0).spread if shorter else None)


def test_best_of_what_will_do() -> None:
    """A spread that will not do is passed over with its reason."""
    (fabric,) = plan(with_fabrics('width = "45 in"\nspread = "best"\nselvedge = "1/2 in"')).fabrics
    assert fabric.spread == "open"
    reasons = {passed.spread: passed.reason for passed in fabric.passed_over}
    assert reasons["double-folded"].startswith("'back' needs 13 7/8 in")


@pytest.fixture(scope="module")
def mixed() -> Plan:
    """Two cloths and two ribs, of each of which one will not do."""
    return plan(with_fabrics(NARROW, WIDE, rib=RIB + RIB.replace("40 in", "3 in").replace("tube rib", "narrow rib")))


def test_refusal(mixed: Plan) -> None:
    """A cloth that will not do stands beside one that does, with the reason."""
    will_not, will = mixed.fabrics
    assert isinstance(will, FabricPlan)
    assert isinstance(will_not, Refusal)
    assert will_not.reason.startswith("'back' needs 13 7/8 in")


def test_rib_refusal(mixed: Plan) -> None:
    """A rib that will not do stands beside one that does, with the reason."""
    will, will_not = mixed.ribs
    assert isinstance(will, RibAnswer)
    assert isinstance(will_not, Refusal)
    assert "needs 9 1/2 in (242 mm) of rib" in will_not.reason


def test_numbers(mixed: Plan) -> None:
    """Markers keep the number that their cloth has in the job."""
    assert [(number, fabric.offer.name) for number, fabric in mixed.markers] == [(2, "fabric 2")]


@pytest.mark.parametrize(
    ("text", "error", "said"),
    [
        (
            with_fabrics(NARROW, NARROW.replace('name = "', 'name = "other ')),
            NothingWillDoError,
            "^tape will not do: 'back' needs 13 7/8 in.*; other tape will not do: 'back' needs 13 7/8 in",
        ),
        (with_fabrics('opened = "60 in"\nspread = "tube"\nselvedge = "1 in"'), SpreadError, "a tube has no selvedge"),
        (with_fabrics(WIDE, rib=RIB.replace("40 in", "3 in")), StripTooShortError, "needs 9 1/2 in"),
        (HEAD, JobError, r"offers no cloth: add a \[\[fabric\]\] entry"),
    ],
)
def test_all_refused(text: str, error: type, said: str) -> None:
    """Where not one cloth, or not one rib, will do, every reason is in the error."""
    with pytest.raises(error, match=said):
        plan(text)


def test_rib_left_out() -> None:
    """A marker alone needs no rib, not even rib that would do."""
    assert plan(with_fabrics(WIDE, rib=RIB.replace("40 in", "3 in")), rib=False).ribs == ()


def test_odd_measurement() -> None:
    """Where a draft fails and a measurement is out of the ordinary, the error names that measurement."""
    job = parse_job(edited(('bust = "42 in"', 'bust = "42 cm"')))
    with pytest.raises(DraftError, match=r"\(bust of 16 1/2 in is unusual for women \(usual: .*\)\)"):
        draft_job(job)


def test_draft_error_alone() -> None:
    """Where all measurements are usual, a draft's error stands as it is."""
    job = parse_job(edited(('length = "30 in"', 'length = "8 in"'), ('hip = "48 in"', 'hip = "44 in"')))
    with pytest.raises(DraftError, match="make the jacket longer") as caught:
        draft_job(job)
    assert "unusual" not in str(caught.value)


def test_repeats() -> None:
    """The same seed, one worker and a stop by work give the same answer, to the last bit."""
    answers = [plan_to_plain(plan(MODEL, effort=0.02, seed=1)) for _ in range(2)]
    for answer in answers:
        for fabric in answer["fabrics"]:
            del fabric["seconds"]
    assert answers[0] == answers[1]
    assert answers[0]["seed"] == 1


def test_additions() -> None:
    """What a cloth entry says of ends, shrinkage and margin reaches the purchase."""
    (fabric,) = plan(with_fabrics(f'{WIDE}\nend_allowance = "2 cm"\nshrinkage = 5\nmargin = 10')).fabrics
    ends, shrinkage, margin, _ = (addition.mm for addition in fabric.purchase.additions)
    laid = fabric.purchase.need + 40
    assert (ends, shrinkage, margin) == pytest.approx((40, laid * (1 / 0.95 - 1), laid / 0.95 * 0.1))


def test_summary(mixed: Plan) -> None:
    """What is bought of each cloth and rib, in the job's units or in others, and why some will not do."""
    whole = mixed.summary()
    assert len(whole.split("\n\n")) == len(mixed.fabrics) + len(mixed.ribs)
    for _, answer in mixed.markers:
        lines = answer.summary("cm").splitlines()
        assert lines[0].startswith(f"buy       {answer.purchase.text} of {answer.offer.name}")
        assert lines[2].startswith("length    ") and lines[2].endswith(" cm")
        assert answer.summary("in") in whole and answer.summary("cm") in mixed.summary("cm")
    refused = [answer for answer in mixed.fabrics if isinstance(answer, Refusal)]
    assert refused and all(f"{one.offer.name} will not do: {one.reason}" in whole for one in refused)


def test_rib_summary(mixed: Plan) -> None:
    """What is bought of a rib stands first; how its bands are cut is the plan's to say."""
    ((_, answer),) = mixed.rib_plans
    assert answer.summary("in").splitlines()[0] == f"buy    {answer.text} of {answer.offer.name} for 9.00"
    assert answer.plan.summary("cm").splitlines()[0].endswith(" cm")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (edited(('bust = "42 in"', 'bust = "41 in"')), "'back'"),
        (edited(('length = "30 in"', 'length = "29 in"')), "'back'"),
        (edited(("[body]", "garments = 2\n[body]")), "times"),
        (edited(('width = "60 in"', 'width = "58 in"')), r"laid as asked there is 29 1/2 in \(749 mm\)"),
        (edited(('spread = "folded"', 'spread = "open"')), "it lies open"),
    ],
)
def test_goes_on_from_the_same_job_alone(text: str, says: str) -> None:
    """The plan of another body, of more garments or of other cloth is no start: the caller hears so."""
    other = parse_job(text)
    before = plan_job(other, Effort(0), rib=False)
    with pytest.raises(JobError, match=f"^the plan before is of another job, by its marker on .*{says}"):
        plan_job(parse_job(MODEL), Effort(0), rib=False, before=before)


def test_an_interrupt_while_proving_leaves_the_searches_whole() -> None:
    """All cloths were searched alike by then: they are compared, and no other proof is begun."""
    asked: list[str] = []

    def listener(name: str, spread: str, *, share: float | None = 1.0) -> Listener:
        if share is None:  # a proof begins
            asked.append(name)
            interrupt.set()
        return Listener()

    interrupt = Interrupted()
    cloths = [f'name = "{name}"\nwidth = "60 in"\nspread = "open"\nprice = "{price}/yd"' for name, price in SOLD]
    effort = Effort(0, proof=0, prove=True, interrupt=interrupt, listener=listener)
    found = plan_job(parse_job(with_fabrics(*cloths)), effort)
    assert asked == [SOLD[0][0]]
    assert [fabric.is_interrupted for fabric in found.fabrics] == [False, False]
    assert next((best.answer.offer.name, best.by) for best in best_of(found)) == (SOLD[1][0], "cost")


def test_what_is_ahead_is_told() -> None:
    """Before each search it is told which come after it: of a named spread those that share its work, then the next.

    A cloth laid in the best of all spreads is searched in simpler ones as well, once it is known which may do as well.
    """
    told: list[list[float]] = []
    spreads = ("folded", "open", "best")
    cloths = [f'name = "{spread}"\nwidth = "60 in"\nspread = "{spread}"' for spread in spreads]
    plan_job(parse_job(with_fabrics(*cloths)), Effort(0, ahead=lambda shares: told.append(list(shares))), rib=False)
    number = len(parse_job(with_fabrics(*cloths)).fabric[0].spreads())
    whole = [1 / number] * number + [1.0, 1.0]  # what is asked at first
    assert told[: len(whole)] == [whole[later:] for later in range(1, len(whole) + 1)]
    assert told[-1] == []


def test_an_interrupt_after_a_whole_answer_leaves_it_whole() -> None:
    """What was found before was searched alike: no cloth takes more, and the best is the best by cost as before."""
    job = parse_job(
        with_fabrics(*(f'name = "{w}"\nwidth = "{w} in"\nspread = "open"\nprice = "9/yd"' for w in (45, 60)))
    )
    before = plan_job(job, Effort(0), rib=False)
    interrupt = Interrupted()
    interrupt.set()
    found = plan_job(job, Effort(1, interrupt=interrupt), rib=False, before=before)
    first = plan_job(job, Effort(1, interrupt=interrupt), rib=False)
    assert [best_of(plan)[0].by for plan in (before, found, first)] == ["cost", "cost", "order"]
    pairs = list(zip(before.markers, found.markers, strict=True))
    assert all(after.marker.length <= earlier.marker.length for (_, earlier), (_, after) in pairs)


@pytest.mark.parametrize(("wider", "held"), [(wider, spread) for wider, held in HELD.items() for spread in held])
def test_a_bound_is_handed_on_only_where_every_layout_is_one_of_the_other(wider: Spread, held: Spread) -> None:
    """What is laid in the one spread lies in the other, no longer: what no layout there undercuts, none here does."""
    offer = parse_job(with_fabrics('width = "60 in"\nspread = "best"')).fabric[0]
    pieces = tuple(draft_job(parse_job(MODEL)).of("shell"))
    _, problem = spread_problem(offer, offer.fabric(), held, pieces, 1)
    _, other = spread_problem(offer, offer.fabric(), wider, pieces, 1)
    marker = solve(problem, lambda _: True).marker
    again = carry(marker, other.to_prove)  # what the bound is proved of
    assert again is not None
    assert again.length <= marker.length + 1e-6
