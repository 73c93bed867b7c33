"""The model job: a whole job file with made-up numbers, by common practice, no source."""

MODEL = """\
garment = "rib-jacket"
units = "in"                       # how answers are written: "in" or "cm"
[body]
bust = "42 in"
hip = "48 in"
across_shoulder = "17 in"
neck = "15 in"
upper_arm = "16 in"
wrist = "8 1/2 in"
armhole_depth = "10 1/2 in"        # by default from the bust
[style]
length = "30 in"                   # finished, rib included
sleeve = "22 in"                   # finished, cuff included
ease = "5 in"
seam = "1/2 in"
closure = "buttons"                # or "zip", "none"
front_extension = "1 in"
drop_shoulder = "0 in"
rib_depth = "3 in"
neck_rib_depth = "1 in"
back = "fold"                      # or "seam"
[[fabric]]
name = "navy twill, wide"
width = "60 in"
selvedge = "1/2 in"
spread = "folded"                  # "open", "folded", "double-folded", "tube", "best"
nap = false
gap = "0 in"
sold_by = "1/8 yd"
price = "14.00 / yd"
[[rib]]
name = "tube rib"
form = "tube"                      # or "flat", "strips"
opened = "40 in"                   # cut open; of strips: width, their length
depth = "8 in"                     # strips only
sold_by = "1/8 yd"                 # or "strip"
price = "18.00 / yd"
"""

RIB = MODEL[MODEL.index("[[rib]]") :]
HEAD = MODEL[: MODEL.index("[[fabric]]")]


def edited(*changes: tuple[str, str], text: str = MODEL) -> str:
    """The model job with some of its text replaced; what is replaced must be there exactly once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the job"
        text = text.replace(old, new)
    return text


def with_fabrics(*entries: str, rib: str = "") -> str:
    """The model job with other cloth."""
    return HEAD + "".join(f"[[fabric]]\n{entry}\n" for entry in entries) + rib
