"""The kernels that are called from outside or take long to compile, so that it can be done ahead.

Each says of what types its arguments are. That is asked of the kernels themselves: whatever calls
one hands over just these.
"""

import gc
import sys
import threading

import numba
from numba.core import event

from nesting.kernels.bound_sheet import most_on_sheet, write_bars
from nesting.kernels.compiled import type_of
from nesting.kernels.fewer_sheets import fewer_sheets
from nesting.kernels.fill_sheet import fill, rules_of
from nesting.kernels.full_sheet import full_sheet
from nesting.kernels.max_rects import fill_free
from nesting.kernels.random_numbers import below
from nesting.kernels.sawn_sheet import fill_sawn
from nesting.kernels.sawn_strips import fill_strips, write_stacks
from nesting.kernels.sawn_table import write_cuts, write_usable_rests
from nesting.kernels.sequence import anneal
from nesting.kernels.skyline import fill_upwards
from nesting.kernels.valuable_sets import sets_above
from nesting.kernels.valuable_sheet import climb

COMPILED = not numba.config.DISABLE_JIT
"""Whether there is anything to compile."""

ENTRIES = {
    kernel.__name__: kernel
    for kernel in (
        fill_upwards,
        fill_free,
        fill_sawn,
        most_on_sheet,
        fill,
        fill_strips,
        write_stacks,
        fewer_sheets,
        climb,
        anneal,
        write_cuts,
        write_usable_rests,
        write_bars,
        below,
        rules_of,
        full_sheet,
        sets_above,
    )
}
"""By name; those that others wait for and those that take long come first."""

SELDOM_CALLED = frozenset({"full_sheet", "sets_above"})
"""Most nests call all of the others."""


def calls(name: str) -> set[str]:
    """Return the names of the other entries that an entry calls itself."""
    return ENTRIES.keys() & set(ENTRIES[name].py_func.__code__.co_names) - {name}


def compile_entry(name: str) -> None:
    """Compile an entry, or load it where it is kept on disk."""
    kernel = ENTRIES[name]
    kernel.compile(types_of(kernel))


def types_of(kernel) -> tuple:
    """Return the types of the kernel's arguments."""
    return tuple(type_of(said) for said in kernel.py_func.__annotations__.values())


def kept() -> bool:
    """Return whether what one process compiles is found by the others, on disk."""
    return all(kernel.stats.cache_path is not None for kernel in ENTRIES.values())


def loaded(name: str) -> bool:
    """Return whether an entry need not be compiled any more; load it where it is kept on disk."""
    try:
        with event.install_listener("numba:compile", _Refusal()):
            compile_entry(name)
    except _NotKept:
        return False
    return True


def serve() -> None:
    """Compile the entry that each line of standard input names; answer with the same line.

    This is all that the process is for, and it ends soon: memory is not collected.
    """
    gc.disable()
    for line in sys.stdin:
        compile_entry(line.strip())
        sys.stdout.write(line)
        sys.stdout.flush()


class _NotKept(Exception):
    pass


class _Refusal(event.Listener):
    """Ends every compilation on this thread as it begins."""

    def __init__(self) -> None:
        self._thread = threading.get_ident()

    def on_start(self, event: event.Event) -> None:
        if threading.get_ident() == self._thread:
            raise _NotKept

    def on_end(self, event: event.Event) -> None:
        pass
