"""The icon that starts the page by a double click."""
