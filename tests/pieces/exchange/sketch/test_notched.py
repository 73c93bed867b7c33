"""Notches put on their points on the sew line."""

from __future__ import annotations

import numpy as np

from pieces.exchange.drawing import Mark
from pieces.exchange.imported import ImportReport
from pieces.exchange.sketch.notched import put_on_sew_line
from pieces.exchange.sketch.sketch import Sketch


def test_by_name_and_nearest() -> None:
    """A point goes to the notch of its name, else to the nearest; one without a notch near it is told of."""
    sketch = Sketch("front", np.array([(0.0, 0.0), (100.0, 0.0), (100.0, 100.0)]))
    sketch.notches = [("hip", (10.0, 0.0)), ("knee", (30.0, 0.0)), ("zip", (80.0, 0.0))]
    report = ImportReport("drawn")
    numbers = [(report.account.enter(report.account.source("it"), "point"),) for _ in range(4)]
    places = [("knee", (12.0, 12.0)), ("", (79.0, 12.0)), ("hip", (31.0, 12.0)), ("", (500.0, 12.0))]
    points = [Mark("sew point", *place, number) for place, number in zip(places, numbers, strict=True)]
    put_on_sew_line(sketch, points, report)
    assert sketch.notches == [("hip", (31.0, 12.0)), ("knee", (12.0, 12.0)), ("zip", (79.0, 12.0))]
    assert len(report.left_out) == 1
