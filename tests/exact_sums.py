"""Sums of floats, watched: since Python 3.12 the built-in one rounds otherwise than before.

(What's New In Python 3.12: "sum() now uses Neumaier summation to improve accuracy when summing
floats".) A last digit is enough for a search to go another way, so that the same job gives other
sheets; `math.fsum` rounds once, in every release.
"""

import builtins
import sys
from collections.abc import Iterable
from typing import Any

PACKAGES = {"casewright", "export", "nesting", "parametric"}
_built_in = builtins.sum


def watched_sum(items: Iterable[Any], /, start: Any = 0) -> Any:
    """Return the sum.

    Raises:
        AssertionError: one of the packages adds up floats.
    """
    module = sys._getframe(1).f_globals.get("__name__", "")
    if module.partition(".")[0] in PACKAGES:
        items = list(items)
        floats = [item for item in (start, *items) if type(item) is float]
        assert not floats, f"{module} adds up floats with sum(); math.fsum rounds alike everywhere"
    return _built_in(items, start)
