"""What is kept from run to run: how it is found again, and plans."""
