"""Kits: what a set needs besides its panels, counted from the joints."""
