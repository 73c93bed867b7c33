"""How much cloth at another width, without pieces."""
