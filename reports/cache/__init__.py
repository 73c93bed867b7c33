"""What is kept from run to run: markers and plans, found again by all that they follow from."""
