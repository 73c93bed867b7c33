"""The local web page: its server, its answers, and the page itself."""
