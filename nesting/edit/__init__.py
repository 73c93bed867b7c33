"""Markers changed: moved by hand, carried over to other cloth."""
