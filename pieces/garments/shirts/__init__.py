"""The parts of the shirt."""
