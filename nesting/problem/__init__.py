"""What the search is given: how often each piece lies on the cloth, and in which ways it may."""
