"""What a person decides of the lines of a file: one by one, or as a legend for the next file."""
