"""Tests of full-scale print."""
