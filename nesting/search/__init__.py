"""The search for a short marker."""
