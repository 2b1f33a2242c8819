"""How the kernels are compiled: kept on disk if possible, without holding the interpreter's lock.

Those of `entries` say of what types their arguments are, so that they can be compiled before they
are called; of all others the caller decides.
"""

from typing import Annotated, get_type_hints

import numba
import numpy as np
from numpy.typing import NDArray

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

Integer = Annotated[int, numba.int64]
Integers = Annotated[NDArray[np.int64], numba.int64[::1]]
IntegerRows = Annotated[NDArray[np.int64], numba.int64[:, ::1]]
IntegerBlocks = Annotated[NDArray[np.int64], numba.int64[:, :, ::1]]
Real = Annotated[float, numba.float64]
Reals = Annotated[NDArray[np.float64], numba.float64[::1]]
RealRows = Annotated[NDArray[np.float64], numba.float64[:, ::1]]
Flags = Annotated[NDArray[np.uint8], numba.uint8[::1]]
ByteRows = Annotated[NDArray[np.int8], numba.int8[:, ::1]]
RandomState = Annotated[NDArray[np.uint64], numba.uint64[::1]]
"""What an argument of a kernel is, or a field of a record: for readers, and for the compiler.

All arrays are contiguous: one that is not has another type, and all that it is passed to would be
compiled again. A record is a `NamedTuple` with such fields.
"""


def type_of(said):
    """Return the compiler's type of what one of the names above says, or a record of them."""
    if hasattr(said, "__metadata__"):
        return said.__metadata__[0]
    fields = get_type_hints(said, include_extras=True).values()
    return numba.types.BaseTuple.from_types([type_of(field) for field in fields], said)
