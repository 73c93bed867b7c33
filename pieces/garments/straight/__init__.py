"""The parts of the robe, which is cut of rectangles."""
