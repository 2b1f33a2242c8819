"""About how much an output will hold, so that a full disk is told before the work.

Measured on the demo jobs (1 to 6 handed sets) and on lists of 2 to 20,000 kinds of pieces, and
rounded up: an estimate that is a little too high costs nothing, one that is far too high refuses a
disk that has room.
"""

from __future__ import annotations

from math import ceil

from casewright.job import Job
from nesting.question.instance import Instance

BYTES_OF_A_HANDED_SET = 7_000_000
BYTES_OF_A_ROOM = 60_000
BYTES_OF_A_NEST = 50_000
BYTES_OF_A_DRAWN_PIECE = 5_000  # with cuts for a saw; 3,000 without
LAYOUTS_OF_A_KIND = 2
"""At most about so many different layouts are cut for each kind of piece, however many of it."""


def build_bytes(job: Job) -> int:
    """Return about how many bytes a build of the job writes."""
    handed = {(room.set_name, room.hand) for room in job.rooms}
    return len(handed) * BYTES_OF_A_HANDED_SET + len(job.rooms) * BYTES_OF_A_ROOM


def nest_bytes(instance: Instance) -> int:
    """Return about how many bytes a nest of the pieces writes; equal sheets are drawn once."""
    pieces = sum(piece.quantity for piece in instance.pieces)
    area = sum(piece.quantity * piece.length * piece.width for piece in instance.pieces)
    sheet = max((stock.length * stock.width for stock in instance.stocks), default=0)
    on_all_layouts = LAYOUTS_OF_A_KIND * len(instance.pieces) * pieces * sheet / max(area, 1)
    return BYTES_OF_A_NEST + min(pieces, ceil(on_all_layouts)) * BYTES_OF_A_DRAWN_PIECE
