"""Parts that garments share: pockets, collars, hoods, loops, interfacing."""
