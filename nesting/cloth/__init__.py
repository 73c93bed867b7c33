"""The cloth: its width and shrinkage, its pattern, and how it lies."""
