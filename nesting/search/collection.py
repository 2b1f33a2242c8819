"""Python's search for objects that only refer to each other, put off where it would cost too much.

It looks through every object there is: with many different pieces that takes as long as verifying
an answer does.
"""

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collection_put_off() -> Iterator[None]:
    """Put the search off until the block ends; for short blocks that leave no cycles behind."""
    if not gc.isenabled():
        yield
        return
    gc.disable()
    try:
        yield
    finally:
        gc.enable()
