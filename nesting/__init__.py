"""Pieces on cloth: spreads, markers, proven bounds, rib."""
