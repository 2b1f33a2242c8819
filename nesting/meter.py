"""How much work a search may do, counted in pieces offered to a sheet.

Counting work and not seconds makes the answer the same on every machine.
"""


class WorkMeter:
    """Counts pieces offered, up to a limit that the search looks at between its rounds."""

    def __init__(self, limit: int) -> None:
        """Start at nothing spent."""
        self.limit = limit
        self.spent = 0

    def spend(self, pieces: int = 1) -> None:
        """Count pieces as offered."""
        self.spent += pieces

    @property
    def exhausted(self) -> bool:
        """Return whether the limit is reached."""
        return self.spent >= self.limit
