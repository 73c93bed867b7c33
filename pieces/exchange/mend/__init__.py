"""Lines joined, outlines mended, halves opened out."""
