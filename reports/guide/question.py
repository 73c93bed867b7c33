"""The question how to mark and cut by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from reports.asking.options import ClothNumber, OneSearch
from reports.asking.question import Question
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from rich.table import Table

    from reports.ask.job import Job
    from reports.asking.laying import LaysMarkers
    from reports.guide.guide import Guide
    from reports.plan.plan import Plan
    from reports.schema.written_answer import WrittenAnswer


class GuideOptions(NamedTuple):
    """Of which cloth."""

    fabric: ClothNumber = None


class GuideAsked(NamedTuple):
    """A job with the cloths that are meant, and the number of the first of them."""

    job: Job
    first: int


class GuidesFound(NamedTuple):
    """A guide for each cloth, by its number in the job, and the plan that they are made from."""

    guides: dict[int, Guide]
    plan: Plan


class HowToCut(Question[GuideAsked, GuidesFound]):
    """Show step by step how to mark and cut with tape and chalk (into JOB-guide or --out; with --json only --out)."""

    name = "guide"
    example = "ellwand guide jacket.toml --fabric 1 --out jacket-guide"
    Options = GuideOptions
    search = OneSearch
    usual = Effort()
    has_folder = True

    def read(self, subject: Job, options: GuideOptions) -> GuideAsked:
        """Find the cloths."""
        if options.fabric is None:
            return GuideAsked(subject, 1)
        return GuideAsked(subject.with_cloth(options.fabric), options.fabric)

    def lay(self, posed: GuideAsked, laying: LaysMarkers) -> GuidesFound:
        """Lay the pieces, and tell how each marker is chalked."""
        from reports.guide.guide import guide_of
        from reports.plan.plan import plan_job

        with laying.watched(posed.job.written_in) as effort:
            plan = plan_job(posed.job, effort, rib=False)
        units = posed.job.written_in
        return GuidesFound({posed.first - 1 + n: guide_of(one, units) for n, one in plan.markers}, plan)

    def plain(self, found: GuidesFound) -> dict[str, Any]:
        """The guides, step by step."""
        from reports.guide.plain import GUIDE_SCHEMA, guide_to_plain

        job = found.plan.job
        guides = [{"number": number, **guide_to_plain(one)} for number, one in found.guides.items()]
        return {"schema": GUIDE_SCHEMA, "job": job.name, "units": job.units, "seed": found.plan.seed, "guides": guides}

    def words(self, found: GuidesFound) -> Iterator[Table | str]:
        """The guides, and which cloth will not do."""
        from reports.guide.words import guide_lines, guide_title
        from reports.plan.words import refusal_lines

        for one in found.guides.values():
            yield from guide_lines(one, guide_title(found.plan.job, one))
            yield ""
        yield from refusal_lines(found.plan)

    def files(self, posed: GuideAsked) -> list[str]:
        """A text for each cloth, and a drawing for each stage."""
        from reports.guide.files import guide_names

        numbers = range(posed.first, posed.first + len(posed.job.fabric))
        return [name for number in numbers for name in guide_names(number)]

    def write(self, found: GuidesFound, folder: Path) -> list[Path]:
        """Write them."""
        from reports.guide.files import write_guide
        from reports.guide.words import guide_title

        job = found.plan.job
        return [
            path
            for number, one in found.guides.items()
            for path in write_guide(one, number, guide_title(job, one), folder)
        ]

    def schema(self) -> WrittenAnswer:
        """How to mark and cut by hand."""
        from reports.guide.schema import GuideAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("how to mark and cut by hand", GuideAnswer, 2)
