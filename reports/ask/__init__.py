"""What is asked for: the job, the order, and the files they name."""
