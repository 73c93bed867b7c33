"""What the page sends and is shown."""
