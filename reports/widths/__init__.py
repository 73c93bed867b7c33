"""How much it takes on each width."""
