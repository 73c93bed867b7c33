"""Knit tops that are pulled over the head: what T-shirt, sweatshirt and hoodie have in common."""
