"""Parts and bars merged over all rooms: the cut list."""
