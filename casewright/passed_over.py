"""Objects that stay, passed over by Python's search for those that only refer to each other.

That search comes again and again while lists and papers are made, and each time looks through all
sets, nests and solids, which took a sixth of the time.
"""

import gc
from collections.abc import Iterator
from contextlib import contextmanager

_SELDOM = 100_000
"""New objects until the next search: papers are made of many that do not refer to each other."""


@contextmanager
def passed_over() -> Iterator[None]:
    """Leave what there is by now out of the search until the block ends; what is made inside is
    searched seldom. Whoever has objects passed over already keeps that as it is.
    """
    if gc.get_freeze_count():
        yield
        return
    as_ever = gc.get_threshold()
    gc.freeze()
    gc.set_threshold(_SELDOM, *as_ever[1:])
    try:
        yield
    finally:
        gc.set_threshold(*as_ever)
        gc.unfreeze()
