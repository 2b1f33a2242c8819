"""From first answers to one sheet fewer, within a budget of work."""
