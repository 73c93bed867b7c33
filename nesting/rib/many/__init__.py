"""Rib of very many garments: bays generated where they pay, and a bound by slices."""
