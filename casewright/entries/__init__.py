"""What a build leaves: the registry of its files, and what renders each of them."""
