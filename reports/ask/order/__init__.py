"""The order of a run, and what of it is an example."""
