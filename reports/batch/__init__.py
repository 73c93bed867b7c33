"""Many markers at once: laid side by side, kept from run to run."""
