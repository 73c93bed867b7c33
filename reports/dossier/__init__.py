"""One dossier a client: body, pieces, markers, rib, shopping list, sewing and cost in one PDF."""
