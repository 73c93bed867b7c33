"""Pieces and markers as files for other programs: one format a module."""
