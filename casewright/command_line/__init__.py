"""Each command as it is typed: its arguments and options, its help, and the call of its work."""
