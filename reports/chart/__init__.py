"""How much each size takes on each width."""
