"""Tests of photos of paper patterns."""
