"""What stays is passed over by the collector (Python's documentation of `gc.freeze`), and only for
as long as the block lasts.
"""

import gc
import weakref

from casewright.passed_over import passed_over


class Knot:
    """Refers to itself, so that only the collector finds it."""

    def __init__(self) -> None:
        self.own = self


def test_what_was_there_stays_and_what_is_made_inside_is_found() -> None:
    knot = Knot()
    before = weakref.ref(knot)
    with passed_over():
        del knot
        inside = weakref.ref(Knot())
        gc.collect()
        assert before() is not None and inside() is None
    gc.collect()
    assert before() is None


def test_what_others_have_passed_over_stays_so() -> None:
    gc.freeze()
    try:
        with passed_over():
            pass
        assert gc.get_freeze_count()
    finally:
        gc.unfreeze()
    with passed_over():
        assert gc.get_freeze_count()
    assert not gc.get_freeze_count()


def test_an_error_ends_it_too() -> None:
    try:
        with passed_over():
            raise ValueError
    except ValueError:
        pass
    assert not gc.get_freeze_count()
