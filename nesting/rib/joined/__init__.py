"""Bands of several garments joined of parts, row by row."""
