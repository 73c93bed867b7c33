"""A report as one file of HTML: it needs no network, no script and no other file, and prints well."""

from __future__ import annotations

import base64
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from reports.sheets.report import Lines, Picture
from reports.sheets.table import Number, Table, clean, written

if TYPE_CHECKING:
    from jinja2 import Template

    from reports.sheets.report import PagePart, Report


def html_page(report: Report) -> str:
    """The whole file."""
    return _template().render(report=report, whole=True).lstrip()


def html_part(report: Report) -> str:
    """What stands between the page's head and its end, for a notebook; without pictures."""
    return _template().render(report=report, whole=False).lstrip()


@cache
def _template() -> Template:
    from jinja2 import Environment, StrictUndefined

    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    environment.filters |= {"written": written, "clean": clean, "picture": _data_uri}
    environment.tests |= {"number": lambda cell: isinstance(cell, Number)}
    environment.globals["kind_of"] = _kind_of
    return environment.from_string((files("reports") / "templates" / "report.html").read_text(encoding="utf-8"))


def _kind_of(part: PagePart) -> str:
    if isinstance(part, Table):
        return "table"
    return "picture" if isinstance(part, Picture) else part.kind if isinstance(part, Lines) else ""


def _data_uri(picture: Picture) -> str:
    """The picture itself, so that the file stands alone."""
    from reports.draw.kit.files import drawn

    return "data:image/svg+xml;base64," + base64.b64encode(drawn(picture.draw(), "svg")).decode()
