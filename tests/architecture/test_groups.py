"""Tests that look at one built demo share a process, so that it is built once."""

import os

import pytest


@pytest.mark.skipif("PYTEST_XDIST_WORKER" not in os.environ, reason="in one process")
def test_tests_are_grouped(request: pytest.FixtureRequest) -> None:
    """The gate's option groups them by a name behind their own; in silence it would not."""
    if request.config.getoption("loadgroup", default=False):
        assert request.node.nodeid.endswith("@architecture/test_groups.py")
