"""What is left of the cloth beside the pieces of a marker."""
