"""Files of pieces: one format a module."""
