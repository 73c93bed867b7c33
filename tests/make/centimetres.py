"""A job in centimetres: every spread is tried, a cloth and a rib will not do, and a cloth has a price."""

CENTIMETRES = """
garment = "rib-jacket"
units = "cm"
[body]
bust = "94 cm"
hip = "100 cm"
across_shoulder = "39 cm"
neck = "36 cm"
upper_arm = "30 cm"
wrist = "18 cm"
arm_length = "58 cm"
[style]
length = "64 cm"
sleeve = "58 cm"
rib_depth = "7 cm"
swatch_relaxed = "10 cm"
swatch_stretched = "10.5 cm"
[[fabric]]
name = "canvas"
width = "150 cm"
spread = "best"
price = "18.00 / m"
[[fabric]]
name = "too narrow"
width = "30 cm"
spread = "folded"
[[rib]]
name = "tube rib"
opened = "90 cm"
price = "15.00 / m"
[[rib]]
name = "narrow strips"
form = "strips"
width = "6 cm"
depth = "5 cm"
"""
