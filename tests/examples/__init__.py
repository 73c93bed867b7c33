"""Programs of about ten lines that use the faces of the packages alone."""
