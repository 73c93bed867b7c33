"""Whether pieces fit on a remnant, with proofs."""
