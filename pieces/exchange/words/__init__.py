"""What is written on pieces and in names."""
