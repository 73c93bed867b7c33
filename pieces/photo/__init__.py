"""Photos of paper patterns beside our own reference sheet, made into pieces."""
