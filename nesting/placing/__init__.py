"""Whether pieces can lie within a length at all: the places of all of them decided at once, with proof."""
