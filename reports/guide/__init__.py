"""How it is marked and cut by hand."""
