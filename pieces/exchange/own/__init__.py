"""Our own files of pieces: the pieces as JSON, the small file beside an import, grade rules."""
