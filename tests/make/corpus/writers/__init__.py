"""Writers of sheets, one a kind of library: each runs in a Python that has it, and says what it wrote."""
