"""Sheets by programs of the command line: each opens a drawing and writes it again in its own way."""
