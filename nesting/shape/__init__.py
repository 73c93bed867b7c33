"""Outlines as the search sees them: grown, simplified, drawn on a grid, and how deep they overlap."""
