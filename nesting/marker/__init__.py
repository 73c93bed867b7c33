"""The marker, its picture, and the second opinion on it."""
