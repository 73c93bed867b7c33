"""Which of the cloths on hand will do."""
