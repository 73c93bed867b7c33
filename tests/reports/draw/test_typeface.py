"""The typeface is embedded in each PDF, and its licence asks that each copy bear its notice."""

from __future__ import annotations

from typing import TYPE_CHECKING

from pypdf import PdfReader

from reports.draw.kit.sheet import font_file
from tests.make.model import with_fabrics

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from tests.reports.conftest import Ran

FABRIC = 'name = "canvas"\nwidth = "60 in"\nselvedge = "0 in"\nspread = "open"'


def test_each_pdf_bears_the_notice(run: Callable[..., Ran], job_file: Callable[[str], Path], tmp_path: Path) -> None:
    """Pictures and prints alike: copyright and the whole permission notice, as the typeface's own file has them."""
    path = job_file(with_fabrics(FABRIC))
    assert run("lay", path, "--effort", 0, "--out", tmp_path / "a").code == 0
    assert run("print", path, "--effort", 0, "--out", tmp_path / "b").code == 0
    files = [*(tmp_path / "a").glob("*.pdf"), *(tmp_path / "b").glob("*.pdf")]
    assert len(files) >= 3
    licence = (font_file().parent / "LICENSE_DEJAVU").read_text(encoding="utf-8", errors="replace")
    asked = "Permission is hereby granted, free of charge, to any person obtaining a copy of the fonts"
    assert asked in " ".join(licence.split())
    for each in files:
        said = PdfReader(each).metadata.subject or ""
        assert "Copyright (c) 2003 by Bitstream, Inc." in said and asked in said
        assert "THE FONT SOFTWARE IS PROVIDED" in said


def test_no_private_site_is_printed(run: Callable[..., Ran], job_file: Callable[[str], Path]) -> None:
    """The table beside `widths` is named by what it is, not by a private person's site."""
    path = job_file(with_fabrics(FABRIC))
    said = run("widths", path, "--from", "45 in", "--to", "50 in", "--step", "5 in", "--effort", 0, "--no-cache")
    assert "conversion chart" in said.out and ".com" not in said.out
