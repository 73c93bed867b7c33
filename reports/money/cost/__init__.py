"""From purchases, minutes and percentages to costs, prices and a quote."""
