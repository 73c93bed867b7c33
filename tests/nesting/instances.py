"""The open nesting instances (ESICUP, CC0), which are read from a folder beside the checkout and never kept in it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

FOLDER = Path(os.environ.get("ELLWAND_INSTANCES", Path(__file__).parents[3] / "shared" / "instances"))
MISSING = f"OPEN NESTING INSTANCES NOT FOUND at {FOLDER}: set ELLWAND_INSTANCES to their folder"

needed = pytest.mark.skipif(not FOLDER.is_dir(), reason=MISSING)
"""What needs them is skipped without them, and the end of the test run says so (`tests/conftest.py`)."""
