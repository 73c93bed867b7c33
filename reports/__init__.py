"""What to buy, what it costs, and drawings to cut from."""
