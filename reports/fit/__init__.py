"""Whether it fits on a remnant."""
