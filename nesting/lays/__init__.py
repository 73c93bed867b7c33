"""A run laid in plies: which sizes share a marker, how many plies of each colour, and from which roll."""
