"""Python's search for cycles stands still in the block and goes on as before after it."""

import gc

import pytest

from nesting.search.collection import collection_put_off


def test_it_stands_still_inside_and_goes_on_after_it() -> None:
    assert gc.isenabled()
    with collection_put_off():
        assert not gc.isenabled()
        with collection_put_off():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled()


def test_it_goes_on_after_an_error() -> None:
    with pytest.raises(RuntimeError), collection_put_off():
        raise RuntimeError
    assert gc.isenabled()


def test_who_switched_it_off_keeps_it_off() -> None:
    gc.disable()
    try:
        with collection_put_off():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()
