"""A corpus of files of known pieces, written by general programs: how it is made, and how what is read is judged."""
