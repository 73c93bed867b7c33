"""The parts of the rib jacket."""
