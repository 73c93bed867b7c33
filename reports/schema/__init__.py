"""What each command prints with ``--json``, written down: one model an answer, and JSON Schema made from it."""
