"""All that is printed, and what the keyboard says meanwhile."""
