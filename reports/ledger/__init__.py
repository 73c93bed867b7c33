"""The ledger: what is on hand, what was ordered, cut, sewn and delivered; every change dated, nothing overwritten."""
