"""The block that all trousers are drafted from, and what is added to it."""
