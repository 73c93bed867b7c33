"""Cloth folded for a part of its length or of its width."""
