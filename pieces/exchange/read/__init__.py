"""Files of patterns, read one form a file into drawings."""
