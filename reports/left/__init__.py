"""What is left of the cloth bought."""
