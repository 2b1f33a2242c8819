"""Sets: units composed along the walls of a room, what ties them, and both hands of it."""
