"""The command `ledger`, an action a function."""
