"""Tests of the order of sewing."""
