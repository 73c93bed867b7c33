"""The piece of a pattern: its outline, its seams, the set of pieces, and how it is graded and divided."""
