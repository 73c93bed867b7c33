"""Markers as they are chalked: on whole steps of a tape."""
