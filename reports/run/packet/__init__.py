"""The cutting packet: one PDF an order, from one plan, and each number on it counted a second time."""
