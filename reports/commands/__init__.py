"""The commands that have files of their own."""
