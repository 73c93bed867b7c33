"""Pictures: markers to cut from, and sheets of pattern pieces. The only place that imports matplotlib."""
