"""How the kernels are compiled: kept on disk if possible, without holding the interpreter's lock.

Those of `entries` say of what types their arguments are, so that they can be compiled before they
are called; of all others the caller decides.
"""

import numba

_OPTIONS = {"nogil": True, "no_cfunc_wrapper": True, "_nrt": False}

_in_memory, _on_disk = numba.njit(**_OPTIONS), numba.njit(cache=True, **_OPTIONS)


def lent(function):
    """Compile a function whose arrays all belong to the caller, as in every kernel.

    It is kept in NUMBA_CACHE_DIR, beside this package or in the user's folder for caches; where
    none of them can be written, it is compiled anew in each process.

    Numba counts the holders of every array that is passed on or sliced, by a locked instruction:
    that was 4 parts of 10 of the time of the inner loops. Whoever only works on arrays that the
    caller keeps need not count. The option is not documented; a function that makes an array
    without it does not compile, and never goes wrong silently. None is ever handed over as a
    pointer for C, so none is compiled a second time for that.
    """
    try:
        return _on_disk(function)
    except RuntimeError:  # what numba raises when it finds no folder
        return _in_memory(function)


inlined = numba.njit(inline="always", **_OPTIONS)
"""For those of them that the innermost loops call from one place: they become part of the caller.

LLVM is shy of functions of their length; without the calls filling a sheet is quicker by a twelfth.
"""

Integer, Real = numba.int64, numba.float64
Integers, IntegerRows, IntegerBlocks = Integer[::1], Integer[:, ::1], Integer[:, :, ::1]
Reals, RealRows = Real[::1], Real[:, ::1]
Flags, ByteRows = numba.uint8[::1], numba.int8[:, ::1]
RandomState = numba.uint64[::1]
