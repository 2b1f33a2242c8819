"""The cells of a table that was printed without lines."""

import re
from collections.abc import Sequence


def cells_of(lines: Sequence[str]) -> list[list[str]]:
    """Cut the lines wherever two columns of blanks or more run right down them."""
    width = max(map(len, lines))
    whole = [line.ljust(width) for line in lines]
    inked = "".join(" " if all(line[at] == " " for line in whole) else "x" for at in range(width))
    spans = [match.span() for match in re.finditer("x+(?: x+)*", inked)]
    return [[line[start:end].strip() for start, end in spans] for line in whole]
