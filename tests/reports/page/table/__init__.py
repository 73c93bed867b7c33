"""Tests of the page's cutting table."""
