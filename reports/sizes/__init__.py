"""A garment in all sizes of a table."""
