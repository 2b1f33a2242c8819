"""Sorting with keys: Shell's method, short to compile and quick for some hundred entries."""

from nesting.kernels.compiled import lent


@lent
def sort_falling(keys, entries, n):
    """Put the first `n` entries and their keys in falling order of the keys."""
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
