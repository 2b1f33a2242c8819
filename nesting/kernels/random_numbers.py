"""Repeatable random numbers for compiled code: xorshift64* of Marsaglia (2003) and Vigna (2016).

The state is an array of one unsigned 64-bit number that is not zero; it belongs to the caller, so
that searches on several threads never share one.
"""

import numpy as np
from numpy.typing import NDArray

from nesting.kernels.compiled import Integer, RandomState, lent

SHIFTS = (np.uint64(12), np.uint64(25), np.uint64(27))
FACTOR = np.uint64(0x2545F4914F6CDD1D)
TO_UNIT = 1.0 / (1 << 53)
DROPPED_BITS = np.uint64(11)


@lent
def uniform(state):
    """Return the next number in [0, 1)."""
    x = state[0]
    x ^= x >> SHIFTS[0]
    x ^= x << SHIFTS[1]
    x ^= x >> SHIFTS[2]
    state[0] = x
    return ((x * FACTOR) >> DROPPED_BITS) * TO_UNIT


@lent
def below(state: RandomState, limit: Integer):
    """Return the next whole number from 0 to `limit` - 1."""
    return int(uniform(state) * limit)


def random_state(seed: int) -> NDArray[np.uint64]:
    """Return a state that depends on every bit of the seed (a step of Vigna's splitmix64)."""
    mask = (1 << 64) - 1
    z = (seed + 0x9E3779B97F4A7C15) & mask
    z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & mask
    z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & mask
    return np.array([(z ^ (z >> 31)) or 1], dtype=np.uint64)
