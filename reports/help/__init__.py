"""Help: one page a topic, for the command `help` and for the page in the browser."""
