"""Tests of markers on whole steps of a tape."""
