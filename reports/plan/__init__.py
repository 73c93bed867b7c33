"""The answer to a job: every cloth laid, every rib cut, and which is best."""
