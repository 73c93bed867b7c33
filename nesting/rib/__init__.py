"""Rib bands cut out of rib."""
