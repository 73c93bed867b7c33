"""The notebook: all that is kept, each thing with what it goes with."""
