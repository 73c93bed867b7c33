"""The small production run: from an order to lays, cloth to buy, tickets and cost."""
