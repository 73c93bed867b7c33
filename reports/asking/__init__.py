"""What all questions have in common: what they are asked about, their options, where they are laid."""
