"""Tests of the parts of trousers."""
