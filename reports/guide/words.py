"""A guide in plain words, in the job's own units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pieces.units import Units, format_bound, format_need, format_size
from reports.ask.offer import unsaid
from reports.cautions import cautions
from reports.chalk.tape import write_on_tape
from reports.plan import answers
from reports.plan.answers import FabricPlan
from reports.plan.words import SPREAD_WORDS
from reports.rows import beyond

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from nesting.cloth.band import Band
    from reports.ask.job import Job
    from reports.ask.order.order import Order
    from reports.guide.guide import Guide, MarkSpot, Stage, Step
    from reports.money.yardage import Purchase
    from reports.plan.cut_cloth import LayFacts

LAYING = {
    "open": "Lay the cloth open, in a single layer, right side up: {laid} from selvedge to selvedge.",
    "folded": "Fold the cloth lengthwise, right sides together, selvedge on selvedge: {laid} from the fold, nearest to"
    " you, to the selvedges.",
    "double-folded": "Fold both selvedges, the near and the far one, to the middle, right sides together, until they "
    "meet: the inner selvedges, {depth} from either fold. It lies {laid} from the lower fold, nearest"
    " to you, to the upper one.",
    "part-folded": "Fold the selvedge nearest to you over, right sides together, until it lies {depth} from the fold"
    " all along: it is the inner selvedge now. Beyond it lies a single layer, right side up.",
    "crosswise": "Fold the cloth across its length, right sides together, cut end on cut end, at your left, and"
    " selvedges on selvedges: {laid} across, the fold at your right.",
    "tube": "Lay the tube flat, uncut, without a twist, right sides together: {laid} from the lower fold, nearest to"
    " you, to the upper one.",
    "face-to-face": "Cut {layers} lengths of {cloth} each, and lay them on one another right sides together two by "
    "two, turning every second one round, ends and near selvedges even: {laid} across.",
    "face-up": "Cut {layers} lengths of {cloth} each, and lay them on one another right sides up, ends and near"
    " selvedges even: {laid} across.",
}
"""How the cloth comes to lie in each spread."""


def guide_lines(guide: Guide, title: str) -> Iterator[str]:
    """The whole guide as text: what the distances are, the numbered steps, and cautions."""
    yield title
    yield ""
    yield from rule_lines(guide)
    for number, text in enumerate(prepare_texts(guide), 1):
        yield ""
        yield f"{number}. {text}"
    for stage in guide.stages:
        yield ""
        yield f"Stage {stage.number} of {len(guide.stages)}: {stage_title(guide, stage)}"
        for number, text in zip(stage.lead, lead_texts(guide, stage), strict=True):
            yield ""
            yield f"{number}. {text}"
        for step in stage.steps:
            yield ""
            yield f"{step.number}. {step_title(step)}"
            yield from (f"   {line}" for line in step_texts(step, guide.units, guide.chalked.step))
    for number, text in enumerate(finish_texts(guide), guide.steps[-1].number + 1):
        yield ""
        yield f"{number}. {text}"
    yield ""
    yield "Cautions"
    yield from cautions(*guide.tools)


def rule_lines(guide: Guide) -> Iterator[str]:
    """How the distances are meant, how true they are, and what the rounding costs."""
    chalked, units = guide.chalked, guide.units
    step, half = tape_words(chalked.step, units), tape_words(chalked.step / 2, units)
    length = format_need(chalked.marker.length, units)
    yield (
        "Stand so that the cloth's start is at your left. Distances run from the start line and from the edge named,"
        f" selvedge included, by the tape's {step}. The first of two is to the piece's nearest point."
    )
    yield (
        f"Where a piece ends, its grainline and its notches are rounded to the nearest {step}, and so right to {half}."
        f" {_places_are(guide)}"
    )
    yield (
        f"Chalk to within {half}. The lines of two touching pieces may then cross by up to {step}: move the later "
        "piece just clear, towards the end of the cloth."
    )
    yield from unsaid([guide.plan.offer], units)
    yield f"The marker is {length} long, {_growth(guide)}. {_cloth(guide)}"


def _places_are(guide: Guide) -> str:
    off = guide.off
    if not off:
        return "The first distances are exact: laid so, no piece overlaps another or leaves the cloth (checked)."
    half = tape_words(guide.chalked.step / 2, guide.units)
    which = f"Those of step{'s' if len(off) > 1 else ''} {', '.join(map(str, off))}"
    if len(off) == len(guide.steps):
        which = "The first distances"
    rest = "" if len(off) == len(guide.steps) else " All other first distances are exact."
    how = "lay such a piece midway between its neighbours"
    if guide.chalked.marker.problem.repeat is not None:
        how = "the lines of the cloth's pattern decide"
    elif guide.chalked.marker.problem.border:
        how = "keep its edge on the border, and lay it midway between its neighbours along the cloth"
    return f"{which} are rounded too, right to {half}: {how}.{rest}"


def _growth(guide: Guide) -> str:
    words = tape_words(abs(guide.growth), guide.units)
    if abs(guide.growth) < guide.chalked.step / 4:
        return "as it was found"
    way = "longer" if guide.growth > 0 else "shorter"
    return f"{words} {way} than the layout found, to suit whole steps of the tape"


def _cloth(guide: Guide) -> str:
    """Whether the cloth to buy still does; of a lay, how long its plies come out."""
    plan = guide.plan
    if plan.lay:
        ply, more = format_need(ply_of(guide), guide.units), guide.growth * plan.lay.number
        if more <= guide.chalked.step / 4:
            return f"Each ply, ends included, is {ply}: as long as the run counts, or shorter."
        return (
            f"Each ply, ends included, is {ply}: all {plan.lay.number} take {format_need(more, guide.units)}"
            " more cloth than the run counts. See that the rolls have it, or cut from the drawing of the ticket."
        )
    assert isinstance(plan, FabricPlan)
    needs = purchase_of(guide)
    if needs.buy > plan.purchase.buy + 1e-6:
        return (
            f"With these steps you need {needs.text}; cut from the drawing of 'ellwand lay', {plan.purchase.text} is "
            "enough."
        )
    spare = needs.spare
    left = f"{format_bound(spare, guide.units)} to spare" if spare > guide.chalked.step else "nothing to spare"
    return f"It comes out of {plan.purchase.text}, with {left}."


def ply_of(guide: Guide) -> float:
    """Length of a ply of a lay under the marker on the steps of the tape, its ends included, mm."""
    return guide.chalked.marker.length + 2 * guide.plan.offer.end_allowance


def purchase_of(guide: Guide) -> Purchase:
    """What the marker on the steps of the tape needs to be bought."""
    marker = guide.chalked.marker
    return answers.purchase_of(guide.plan.offer, marker.problem, marker.length)


def prepare_texts(guide: Guide) -> tuple[str, ...]:
    """What is done before the cloth is laid."""
    offer, units = guide.plan.offer, guide.units
    is_washed = offer.shrinkage and offer.washed == "before"
    wash = " Wash and dry it first: it is bought with shrinkage added." if is_washed else ""
    nap = " Find which way its nap or print runs." if offer.nap else ""
    wide = format_need(offer.fabric().width, units)
    return (
        f"Make the cloth ready.{wash} Press it, and let it lie flat and relaxed.{nap} It should be {wide} wide; if it "
        "is narrower, lay the pieces again for its real width.",
        "Square one end: pull a thread from selvedge to selvedge, or draw a line along a set square held to the"
        " selvedge, and cut along it. Of a knit, follow a row of stitches.",
    )


def stage_title(guide: Guide, stage: Stage) -> str:
    """How the cloth lies while these pieces are marked."""
    spread = SPREAD_WORDS.get(stage.spread, stage.spread)
    if stage.spread != guide.plan.spread:
        which = "first" if stage.number == 1 else "then"
        return f"{which} {spread}"
    if len(guide.stages) == 1:
        return spread
    return f"{spread}: the {_band_names(stage)}"


def _band_names(stage: Stage) -> str:
    return " and the ".join(dict.fromkeys(step.row.band.name for step in stage.steps))


def lead_texts(guide: Guide, stage: Stage) -> tuple[str, ...]:
    """What is done to the cloth before a stage's pieces are marked: it is laid, and its start drawn."""
    if stage.number > 1 and stage.bands == guide.stages[stage.number - 2].bands:
        return (f"Leave the cloth as it lies, and go on with the {_band_names(stage)} beside it.",)
    if stage.number > 1:
        return _opening_texts(guide, stage)
    units, marker = guide.units, guide.chalked.marker
    ends = format_need(guide.plan.offer.end_allowance, units)
    length = format_need(marker.length, units)
    line = "Along the squared end" if not guide.plan.offer.end_allowance else f"{ends} from the squared end"
    repeat = marker.problem.repeat
    if repeat and repeat.along:
        beyond = format_size(repeat.start % repeat.along, units)
        line = f"{ends} or more from the squared end, and {beyond} before a line of the pattern"
    far = f"Draw another {length} further on: all pieces lie between."
    if len(guide.stages) > 1 and guide.stages[-1].bands != stage.bands:
        first, last = (
            write_on_tape(guide.stages[-1].start, units, guide.chalked.step),
            format_need(marker.length - guide.stages[-1].start, units),
        )
        far = (
            f"Draw another {first} further on, through to the lower layer: all pieces of this stage lie between. Beyond"
            f" it {last} more are wanted, opened out."
        )
    return (
        f"{_laying(guide, stage)} Smooth it, without stretching, from the edge nearest to you outwards, and pin or "
        "weight"
        f" it {'so that the layers keep together' if stage.kind == 'layered' else 'down'}.",
        f"{line}, draw a line straight across: the start. {far}",
    )


def _opening_texts(guide: Guide, stage: Stage) -> tuple[str, ...]:
    """How the cloth is opened out behind a stretch that is marked."""
    before, units = guide.stages[stage.number - 2], guide.units
    first, last = before.steps[0].number, before.steps[-1].number
    steps = f"step {first}" if first == last else f"steps {first} to {last}"
    line, end = write_on_tape(stage.start, units, guide.chalked.step), format_need(guide.chalked.marker.length, units)
    return (
        f"Look over {steps}, and cut their pieces as the last two"
        f" steps say. Then cut straight across along the line {line} from the start, and take what is left of the"
        " folded cloth away.",
        f"Unfold the rest. {_laying(guide, stage)} Smooth it, and weight it down. Lay the tape with its {line} on the"
        f" cut end, so that distances still run from the start, and draw a line straight across at {end}: all pieces"
        " of this stage lie before it.",
    )


def _laying(guide: Guide, stage: Stage) -> str:
    marker, units, plan, bands = guide.chalked.marker, guide.units, guide.plan, stage.bands
    low, high = laid_edges(bands)
    words = LAYING.get(stage.spread, f"Lay the cloth: {SPREAD_WORDS.get(stage.spread, stage.spread)}, {{laid}} across.")
    if marker.problem.repeat and marker.problem.repeat.across:
        words += " A line of the pattern lies along the fold or, unfolded, along the middle of the cloth."
    if marker.problem.border:
        words += f" Its border lies along the edge nearest to you, {format_size(marker.problem.border, units)} from it."
    if marker.problem.repeat and bands[0].layers > 1:
        words += " Pin the pattern of the layers line on line."
    words += _stacking(plan.lay)
    return words.format(
        laid=format_size(high - low, units),
        depth=format_size(bands[0].high + bands[0].selvedge, units),
        layers=bands[0].layers,
        cloth=format_need(marker.length + 2 * plan.offer.end_allowance, units),
    )


STACKING = {
    "face-up": "all right sides up",
    "face-to-face": "right sides together two by two, every second one turned round",
    "folded": "each folded in the same way, folds on one side",
    "tube": "tube on tube",
}
"""How plies come to lie on one another."""


def _stacking(lay: LayFacts | None) -> str:
    """How the plies of a lay are laid on one another."""
    if lay is None or lay.number < 2:
        return ""
    each = ", ".join(f"{number} × {key}" for key, number in lay.plies.items())
    return (
        f" Lay {lay.number} plies of {{cloth}} each on one another, {STACKING[lay.stack]}, ends and one edge even: from"
        f" the table up {each}. Mark the top one."
    )


def laid_edges(bands: Sequence[Band]) -> tuple[float, float]:
    """Lower and upper edge of laid cloth, selvedges included, mm."""
    return bands[0].low - beyond(bands[0], "low"), bands[-1].high + beyond(bands[-1], "high")


def finish_texts(guide: Guide) -> tuple[str, ...]:
    """What is done once all pieces are drawn."""
    number = len(guide.steps)
    drawn = "the piece is there" if number == 1 else f"all {number} are there"
    rows = [step.row for step in guide.steps]
    pairs = any(row.band.layers == 1 and row.item.piece and row.item.piece.mirrored_pair for row in rows)
    also = ", every left has its right" if pairs else ""
    also += ", all tops point the same way" if guide.plan.offer.nap is True else ""
    fold = ""
    if any("fold" in (row.band.low_edge, row.band.high_edge) for row in rows):
        fold = " Leave the fold of a piece on the fold whole; any other piece that touches a fold is cut there."
    return (
        f"Look it over before you cut: {drawn}, no lines cross, and every grainline is at the distance from its edge "
        f"that its step gives{also}.",
        f"Cut in the order of the steps, through all layers that a step names.{fold} Mark notches and drill points"
        " through all layers before you lift a pattern piece: a notch by a snip shorter than half the seam allowance, a"
        " drill point by a pin and chalk or by a thread.",
    )


def step_title(step: Step) -> str:
    """The piece, which of several, what it gives, and how many layers are cut."""
    which = f" ({step.copy} of {step.copies})" if step.copies > 1 else ""
    each = ", in each ply" if step.plies > 1 else ""
    return f"{step.row.name}{which}: {step.row.gives}{each}. {layers_words(step)}."


def layers_words(step: Step) -> str:
    """How many layers are cut at once."""
    layers = step.row.band.layers * step.plies
    return "Cut 1 layer" if layers == 1 else f"Cut {layers} layers at once"


def step_texts(step: Step, units: Units, tape: float | None = None) -> Iterator[str]:
    """How one piece is laid, and where; `tape` is the step that distances are read by, mm."""

    def size(mm: float) -> str:
        return write_on_tape(mm, units, tape)

    yield f"Lay it printed side {side_up(step)}, its top {top_words(step)}."
    if step.row.joined:
        yield f"It is {step.row.joined}."
    start, end = (size(x) for x in step.start)
    if step.row.variant.on_fold:
        first, last = step.fold
        yield (
            f"Its fold edge on the {step.edge}, {size(first.start)} to {size(last.start)} from the start. In all it"
            f" takes {start} to {end} from the start, and reaches {size(step.across[1])} from the {step.edge}."
        )
    else:
        near, far = (size(y) for y in step.across)
        yield f"From the start: {start} to {end}. From the {step.edge}: {near} to {far}."
    if step.is_opened:
        first, last = step.fold
        lies = f"{size(first.edge)} from the {step.edge}, {size(first.start)} to {size(last.start)} from the start"
        if abs(first.start - last.start) < abs(first.edge - last.edge):  # across the cloth, as on a border
            low, high = sorted((first.edge, last.edge))
            lies = f"{size(first.start)} from the start, {size(low)} to {size(high)} from the {step.edge}"
        yield (
            f"It is a half: its fold edge lies {lies}. Draw round it, turn it over on that line, and draw round it"
            " again."
        )
    yield from _grain_text(step, size)
    for spot in step.match:
        away = f"{size(spot.start)} from the start, {size(spot.edge)} from the {step.edge}"
        yield f"Match point, on a line of the pattern: {away}."
    cut_at = ("Notches, where they are cut", step.notch_edges)
    for name, spots in (("Notches", step.notches), cut_at, ("Drill points", step.drill_points)):
        if spots:
            yield f"{name}, from the start and from the {step.edge}: {'; '.join(_spot_words(spots, size))}."


def _grain_text(step: Step, size: Callable[[float], str]) -> Iterator[str]:
    if not step.grain:
        return
    first, last = step.grain
    starts = f"{size(first.start)} and {size(last.start)} from the start"
    if abs(first.edge - last.edge) < 0.01:
        across = f"{size((first.edge + last.edge) / 2)} from the {step.edge} at both ends"
    else:
        across = f"{size(first.edge)} and {size(last.edge)} from the {step.edge}"
    yield f"Grainline: {across}, {starts}."


def _spot_words(spots: Sequence[MarkSpot], size: Callable[[float], str]) -> list[str]:
    names = {spot.name for spot in spots}
    return [
        ("" if len(names) == 1 and i else f"{spot.name} ") + f"{size(spot.start)}, {size(spot.edge)}"
        for i, spot in enumerate(spots)
    ]


def side_up(step: Step) -> str:
    """Which side of the pattern piece is up."""
    return "down" if step.row.variant.mirrored else "up"


def top_words(step: Step) -> str:
    """Where the top of the piece points."""
    along, across = step.top
    ends = [f"the {'start' if along < 0 else 'end'}"] if abs(along) > 0.3 else []
    ends += [f"the {'upper' if across > 0 else 'lower'} edge"] if abs(across) > 0.3 else []
    return f"towards {' and '.join(ends)}"


def tape_words(mm: float, units: Units) -> str:
    """A small length, finer than the tape's step: in inches to 1/16, or in mm."""
    return format_size(mm, units, 16) if units is Units.INCHES else f"{round(mm, 1):g} mm"


def guide_title(job: Job | Order, guide: Guide) -> str:
    """What is made, and of which cloth."""
    if guide.plan.lay:
        return f"{job.title}: {guide.plan.lay.title}"
    return f"{job.title}, on {guide.plan.offer.name}"
