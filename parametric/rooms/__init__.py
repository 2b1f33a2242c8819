"""Rooms as measured: which set fits, and what has to be done so that it does."""
