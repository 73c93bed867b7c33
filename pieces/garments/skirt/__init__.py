"""What skirts have in common, and the parts of each."""
