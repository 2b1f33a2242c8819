"""Compiled inner loops: plain arrays in, plain arrays out, no state of their own.

What the first use in a fresh environment waits for is compiling, so two habits keep that short. A
count that starts as a plain 0 has that literal as its type until the compiler meets the loop that
changes it, and all that it was passed to is compiled twice; such counts start as `np.int64(0)`.
Rows are copied entry by entry, since assigning one array to another compiles the texts of errors.
"""
