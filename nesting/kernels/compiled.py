"""How the kernels are compiled: kept on disk, and without holding the interpreter's lock."""

import numba

compiled = numba.njit(cache=True, nogil=True, no_cfunc_wrapper=True)
"""For functions that make arrays of their own.

No kernel is ever handed over as a pointer for C, so none is compiled a second time for that.
"""

lent = numba.njit(cache=True, nogil=True, no_cfunc_wrapper=True, _nrt=False)
"""For functions whose arrays all belong to the caller.

Numba counts the holders of every array that is passed on or sliced, by a locked instruction: that
was 4 parts of 10 of the time of the inner loops. Whoever only works on arrays that the caller keeps
need not count. The option is not documented; a function that makes an array without it does not
compile, and never goes wrong silently.
"""
