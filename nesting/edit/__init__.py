"""Markers changed: moved by hand, laid again on wider cloth."""
