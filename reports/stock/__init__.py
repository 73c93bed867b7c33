"""What is on hand, and what it covers of a job or a run."""
