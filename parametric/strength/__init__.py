"""What a part can bear: formulas and figures with their sources, and nothing of any set."""
