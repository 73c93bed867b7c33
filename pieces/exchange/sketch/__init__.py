"""From what is drawn to pieces: outlines in one another, names, folds, sizes."""
