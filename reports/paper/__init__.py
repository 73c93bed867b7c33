"""Full-scale print: pieces and markers on sheets to tape or glue together, on rolls, and as wide as the cloth."""
