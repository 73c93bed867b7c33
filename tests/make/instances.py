"""The open nesting instances (ESICUP, https://github.com/ESICUP/datasets, commit 5fba5c4, CC0 1.0).

They are never kept in the project: one file an instance in the folder that ``ELLWAND_INSTANCES`` names, with `width`
(the strip's fixed side), and of each piece `turns`, `quantity` and `outline`.
"""

import os
from pathlib import Path

import pytest

FOLDER = Path(os.environ.get("ELLWAND_INSTANCES", "no-instances"))
MISSING = "OPEN NESTING INSTANCES (ESICUP) NOT FOUND: set ELLWAND_INSTANCES to their folder"

needed = pytest.mark.skipif(not FOLDER.is_dir(), reason=MISSING)
"""What needs them is left out without them, and the end of the test run says so (`tests/conftest.py`)."""
