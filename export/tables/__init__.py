"""Tables as CSV text."""
