"""Pieces cut out of boxes: rectangles first, shaped on the table."""
