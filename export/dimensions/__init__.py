"""What drawings of parts and of sets have in common: scales and how they are told."""
