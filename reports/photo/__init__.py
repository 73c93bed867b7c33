"""Pictures of what was traced in photos."""
