"""Pattern pieces drafted from body measurements."""
