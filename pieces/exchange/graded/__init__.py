"""Grading beside a DXF, by ASTM D6673: a table of rules by number, and points that have them."""
