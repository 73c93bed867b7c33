"""Trims: what a garment needs besides cloth and rib, and in which sizes shops sell it."""
