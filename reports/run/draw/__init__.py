"""Drawings of a run: lays, tickets, costs, the quote."""
