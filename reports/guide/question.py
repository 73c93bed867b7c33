"""The question how to mark and cut by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from reports.asking.options import ClothNumber, LayFiles, OneSearch, refuse_cloth
from reports.asking.question import Question
from reports.asking.subject import JOB, ORDER
from reports.plan.effort import Effort

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence
    from pathlib import Path

    from rich.table import Table

    from reports.ask.job import Job
    from reports.ask.order.order import Order
    from reports.asking.laying import LaysMarkers
    from reports.asking.subject import SubjectFile
    from reports.guide.guide import Guide
    from reports.plan.cut_cloth import CutCloth
    from reports.schema.written_answer import WrittenAnswer

    ReadLays = Callable[[Order, Sequence[Path]], Sequence[CutCloth]]


class GuideOptions(NamedTuple):
    """Of which cloth, or of which lays of a run."""

    fabric: ClothNumber = None
    lay: LayFiles = None


class GuideAsked(NamedTuple):
    """A job with the cloths that are meant, and the number of the first of them; or an order with lays of its run."""

    made: Job | Order
    first: int
    lays: tuple[CutCloth, ...] = ()

    @property
    def names(self) -> list[str]:
        """What the guides are called in the names of files."""
        if self.lays:
            return [f"lay-{one.lay.ticket}" for one in self.lays if one.lay]
        return [str(number) for number in range(self.first, self.first + len(self.made.fabric))]


class GuidesFound(NamedTuple):
    """A guide for each cloth by its number in the job, or for each lay by that of its ticket; what was refused."""

    guides: dict[int, Guide]
    made: Job | Order
    seed: int
    refused: tuple[str, ...] = ()


class HowToCut(Question[GuideAsked, GuidesFound]):
    """Show step by step how to mark and cut with tape and chalk (into JOB-guide or --out; with --json only --out).

    Parameters
    ----------
    read_lays
        Reads the lays of an order from their files.
    """

    name = "guide"
    example = "ellwand guide jacket.toml --fabric 1 --out jacket-guide"
    Options = GuideOptions
    search = OneSearch
    usual = Effort()
    has_folder = True

    def __init__(self, read_lays: ReadLays) -> None:
        self._read_lays = read_lays

    def subject_of(self, options: GuideOptions) -> SubjectFile:
        """With lays the file is an order."""
        return ORDER if options.lay else JOB

    def read(self, subject: Job | Order, options: GuideOptions) -> GuideAsked:
        """Find the cloths, or read the lays."""
        from reports.ask.job import Job

        if options.lay:
            refuse_cloth(options.fabric)
            assert not isinstance(subject, Job)
            return GuideAsked(subject, 1, tuple(self._read_lays(subject, options.lay)))
        assert isinstance(subject, Job)
        if options.fabric is None:
            return GuideAsked(subject, 1)
        return GuideAsked(subject.with_cloth(options.fabric), options.fabric)

    def lay(self, posed: GuideAsked, laying: LaysMarkers) -> GuidesFound:
        """Lay the pieces of a job, and tell how each marker is chalked; those of lays are laid."""
        from reports.ask.job import Job
        from reports.guide.guide import guide_of

        units, made = posed.made.written_in, posed.made
        if not isinstance(made, Job):
            guides = {one.lay.ticket: guide_of(one, units, made.cutting.tool) for one in posed.lays if one.lay}
            return GuidesFound(guides, made, laying.effort.seed)
        from reports.plan.plan import plan_job
        from reports.plan.words import refusal_lines

        with laying.watched(units) as effort:
            plan = plan_job(made, effort, rib=False)
        guides = {posed.first - 1 + n: guide_of(one, units) for n, one in plan.markers}
        return GuidesFound(guides, made, plan.seed, tuple(refusal_lines(plan)))

    def plain(self, found: GuidesFound) -> dict[str, Any]:
        """The guides, step by step."""
        from reports.guide.plain import GUIDE_SCHEMA, guide_to_plain

        made = found.made
        guides = [{"number": number, **guide_to_plain(one)} for number, one in found.guides.items()]
        return {"schema": GUIDE_SCHEMA, "job": made.name, "units": made.units, "seed": found.seed, "guides": guides}

    def words(self, found: GuidesFound) -> Iterator[Table | str]:
        """The guides, and which cloth will not do."""
        from reports.guide.words import guide_lines, guide_title

        for one in found.guides.values():
            yield from guide_lines(one, guide_title(found.made, one))
            yield ""
        yield from found.refused

    def files(self, posed: GuideAsked) -> list[str]:
        """A text for each cloth or lay, and a drawing for each stage."""
        from reports.guide.files import guide_names

        return [name for one in posed.names for name in guide_names(one)]

    def write(self, found: GuidesFound, folder: Path) -> list[Path]:
        """Write them."""
        from reports.ask.job import Job
        from reports.guide.files import write_guide
        from reports.guide.words import guide_title

        kind = "" if isinstance(found.made, Job) else "lay-"
        return [
            path
            for number, one in found.guides.items()
            for path in write_guide(one, f"{kind}{number}", guide_title(found.made, one), folder)
        ]

    def schema(self) -> WrittenAnswer:
        """How to mark and cut by hand."""
        from reports.guide.schema import GuideAnswer
        from reports.schema.written_answer import WrittenAnswer

        return WrittenAnswer("how to mark and cut by hand", GuideAnswer, 3)
