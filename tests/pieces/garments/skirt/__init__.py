"""Tests of the parts that garments share."""
