"""About how much an output will hold, so that a full disk is told before the work.

Measured on the demo jobs and on lists of 1,000 to 20,000 pieces, and rounded up: an estimate that
is a little too high costs nothing.
"""

from __future__ import annotations

from casewright.job import Job
from nesting.instance import Instance

BYTES_OF_A_HANDED_SET = 7_000_000
BYTES_OF_A_ROOM = 60_000
BYTES_OF_A_LAYOUT = 10_000
BYTES_OF_A_PIECE = 3_000


def build_bytes(job: Job) -> int:
    """Return about how many bytes a build of the job writes."""
    handed = {(room.set_name, room.hand) for room in job.rooms}
    return len(handed) * BYTES_OF_A_HANDED_SET + len(job.rooms) * BYTES_OF_A_ROOM


def nest_bytes(instance: Instance) -> int:
    """Return about how many bytes a nest of the pieces writes; each piece drawn as often as cut."""
    pieces = sum(piece.quantity for piece in instance.pieces)
    return BYTES_OF_A_LAYOUT + pieces * BYTES_OF_A_PIECE
