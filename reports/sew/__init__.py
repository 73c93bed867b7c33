"""The order of sewing: numbered steps for class, each with its seam allowance, notches and a small drawing."""
