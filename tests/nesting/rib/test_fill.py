"""First plans for rib, by hand."""

from __future__ import annotations

from nesting.rib.band import RibBand, RibStock
from nesting.rib.fill import cut_parts, first_fit, next_fit, part_lengths, stack_rows
from nesting.rib.task import RibTask
from pieces.length import mm

TUBE = RibStock("tube", "tube", mm(1000.0))


def task(*bands: RibBand, stock: RibStock = TUBE) -> RibTask:
    """Bands with joins of 10 mm, no part under 100 mm."""
    return RibTask.from_bands(bands, stock, 5.0, 100.0)


def test_a_long_band_is_cut_into_full_widths_and_a_rest() -> None:
    """2300 mm of band out of 1000 mm: three parts, which with two joins of 10 mm make 2320 mm."""
    hem = task(RibBand("hem", mm(2300.0), mm(70.0)))
    lengths = [part.length for part in cut_parts(hem)]
    assert lengths[0] == lengths[1] == hem.width
    assert sum(lengths) == hem.kinds[0].length + 2 * hem.join


def test_the_rest_is_no_shorter_than_the_least_part() -> None:
    """Where 30 mm would be left, the part before gives of its own."""
    hem = task(RibBand("hem", mm(1020.0), mm(70.0)))
    lengths = [part.length for part in cut_parts(hem)]
    assert min(lengths) == hem.least
    assert sum(lengths) == hem.kinds[0].length + hem.join


def test_no_part_is_short_on_narrow_rib() -> None:
    """A band of 775 mm on 150, seams of 12.7: the rest of 27.4 lacks more than one part can lend it."""
    task = RibTask.from_bands([RibBand("hem", mm(775), mm(60))], RibStock("tube", "tube", mm(150)), 12.7, 101.6)
    lengths = part_lengths(task, task.kinds[0])
    assert task.least <= min(lengths)
    assert max(lengths) <= task.width
    assert sum(lengths) == task.kinds[0].length + (len(lengths) - 1) * task.join


def test_as_many_rows_whichever_way_they_fit() -> None:
    """Three of 60 mm and three of 40 in rows of 100: three where each lies where it fits, four in their order."""
    bands = [RibBand("a", mm(60), mm(10), 3), RibBand("b", mm(40), mm(10), 3)]
    task = RibTask.from_bands(bands, RibStock("tube", "tube", mm(100)), 0.0, 100.0)
    parts = list(cut_parts(task))
    assert (len(first_fit(task, parts)), len(next_fit(task, parts))) == (3, 4)


def test_every_part_lies_in_a_row_with_room() -> None:
    """600, 500, 400 and 300 mm go into two rows, the longest first."""
    bands = task(*(RibBand(f"b{n}", mm(float(n)), mm(70.0)) for n in (600, 500, 400, 300)))
    rows = first_fit(bands, list(cut_parts(bands)))
    assert len(rows) == 2
    assert all(sum(part.length for part in row.parts) <= bands.width for row in rows)
    assert sum(len(row.parts) for row in rows) == 4


def test_rows_go_into_strips_by_their_depth() -> None:
    """Strips 80 mm deep hold one row of 70 mm, or two of 40 mm."""
    strips = RibStock("strips", "strips", mm(1000.0), mm(80.0))
    bands = task(
        *(RibBand(f"b{n}", mm(900.0), mm(40.0)) for n in range(4)), RibBand("deep", mm(900.0), mm(70.0)), stock=strips
    )
    rows = stack_rows(bands, first_fit(bands, list(cut_parts(bands))))
    assert sorted(row.strip for row in rows) == [0, 1, 1, 2, 2]
