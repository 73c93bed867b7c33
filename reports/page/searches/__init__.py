"""The searches that wait and run."""
