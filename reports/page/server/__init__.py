"""The server of the page: the way in, the calls, and their mistakes."""
