"""Lengths that no marker undercuts."""
