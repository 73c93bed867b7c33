"""Plain shapes, drafted from a few figures without a body: rectangles, gores, circles, bindings."""
