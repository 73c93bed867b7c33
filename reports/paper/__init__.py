"""Full-scale print: pieces and markers on sheets to glue together, on rolls, and as wide as the cloth."""
