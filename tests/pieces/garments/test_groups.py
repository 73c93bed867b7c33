"""Options of styles in groups: each stands in one, and is called by words."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from importlib.resources import files

from pieces import GARMENTS
from pieces.garments.groups import OTHER, group_of, label_of, option_groups

TABLE = tomllib.loads((files("pieces") / "tables" / "options.toml").read_text(encoding="utf-8"))
KNOWN = {option.name for garment in GARMENTS.values() for option in garment.options()}


def test_every_option_has_one_group() -> None:
    """Each option of each garment stands in one group, once, and no group names an option that is not there."""
    listed = Counter(option for group in TABLE["group"] for option in group["options"])
    assert set(listed) == KNOWN and set(listed.values()) == {1}
    assert all(group_of(name) != OTHER for name in KNOWN)
    assert {group.name for group in option_groups()} >= {"fit", "front", "pockets", "hem", "seams"}
    assert group_of("an_option_of_others") == OTHER and option_groups()[-1].name == OTHER


def test_labels_are_words() -> None:
    """No label has a sign that words have not; of two options of a garment none is called as another."""
    assert set(TABLE["labels"]) <= KNOWN
    for garment in GARMENTS.values():
        labels = [label_of(option.name) for option in garment.options()]
        assert len(set(labels)) == len(labels)
        assert all(re.fullmatch(r"[A-Z][a-z, -]+", label) for label in labels), labels
    assert label_of("an_option_of_others") == "An option of others"
