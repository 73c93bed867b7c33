"""Garments of a sewing room, registered under the entry point `ellwand.garments`."""
