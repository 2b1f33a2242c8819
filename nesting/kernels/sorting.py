"""Sorting with keys, for lists of some dozen to some hundred entries."""

from nesting.kernels.compiled import lent

FEW = 96
"""Up to so many, counting what goes before each is quicker than exchanging: it has no branches."""


@lent
def sort_falling(keys, entries, n, moved):
    """Put the first `n` entries in falling order of their keys; `moved` is scratch for them.

    The keys may be moved as well.
    """
    if n > FEW:
        exchange(keys, entries, n)
        return
    for i in range(n):
        key = keys[i]
        before = 0
        for j in range(i):
            before += keys[j] >= key
        for j in range(i + 1, n):
            before += keys[j] > key
        moved[before] = entries[i]
    for i in range(n):
        entries[i] = moved[i]


@lent
def exchange(keys, entries, n):
    """Put entries and keys in falling order by Shell's method, short to compile."""
    gap = 1
    while gap < n // 3:
        gap = 3 * gap + 1
    while gap >= 1:
        for i in range(gap, n):
            key, entry = keys[i], entries[i]
            j = i
            while j >= gap and keys[j - gap] < key:
                keys[j], entries[j] = keys[j - gap], entries[j - gap]
                j -= gap
            keys[j], entries[j] = key, entry
        gap //= 3
