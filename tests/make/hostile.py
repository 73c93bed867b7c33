"""Names that a spreadsheet, a browser or XML would take for something else."""

import json

FORMULA = '=HYPERLINK("http://192.0.2.1/","look")'
SCRIPT = "<script>alert(1)</script>"
IMAGE = "\"><img src=x onerror='alert(1)'>"
MINUS = "-2+3"
AT = "@SUM(A1:A9)"
BRACES = "{{ 7 * 7 }}{% include 'x' %}"

RUN = tuple(
    (f'^{key} = "{old}"', f"{key} = {json.dumps(new)}")
    for key, old, new in (
        ("name", "rust canvas", FORMULA),
        ("name", "navy canvas", SCRIPT),
        ("supplier", "mill agent", AT),
        ("supplier", "mill agent", BRACES),
        ("name", "zip", MINUS),
        ("supplier", "knit mill", IMAGE),
    )
)
"""Changes of the order that `new --run` writes."""
