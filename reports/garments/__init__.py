"""What garments there are, and what each of them needs."""
