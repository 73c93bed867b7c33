"""Changes that let a garment do with less cloth."""
