"""Papers for the shop."""
