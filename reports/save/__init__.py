"""What would save cloth."""
