"""Compiled loops: arrays in, numbers out; no classes of ours, no cloth."""
