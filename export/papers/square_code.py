"""Square codes (ISO/IEC 18004) for papers and labels. The only door to what encodes them."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import zxingcpp
from numpy.typing import NDArray

QUIET = 4
"""Modules that stay free round a code (ISO/IEC 18004, 9.1, from memory)."""

Modules = NDArray[np.bool_]


def code_svg(text: str) -> str:
    """Return the text as a square code with its quiet zone, error correction level M.

    It has no size of its own, a module is one unit. The rims of what is dark are one path, so that
    no seam shows where dark modules meet.

    Raises:
        ValueError: the text is longer than any code.
    """
    dark = _modules(text)
    side = len(dark) + 2 * QUIET
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}">'
        f'<path d="{"".join(_rims(dark))}" fill-rule="evenodd" shape-rendering="crispEdges"/></svg>'
    )


def _modules(text: str) -> Modules:
    """Return which modules are dark, from the top row down."""
    # Without the note (ECI) other characters than ASCII would be read as those of Latin-1.
    note = {} if text.isascii() else {"eci": "UTF8"}
    kind = zxingcpp.BarcodeFormat.QRCode
    made = zxingcpp.create_barcode(text, kind, ec_level="M", **note)
    dark: Modules = np.array(made.to_image(scale=1, add_quiet_zones=False)) == 0
    return dark


def _rims(dark: Modules) -> Iterator[str]:
    """Yield the closed lines between dark and light, as path data.

    Along a row, and along a column, corners are the ends of one straight side after the other: so
    each corner has one partner across and one up or down, and going from partner to partner leads
    round.
    """
    xs, ys = _corners(dark)
    by_column = np.argsort(xs, kind="stable")
    up_or_down = np.empty_like(by_column)
    up_or_down[by_column[0::2]], up_or_down[by_column[1::2]] = by_column[1::2], by_column[0::2]
    columns, rows, beyond = (xs + QUIET).tolist(), (ys + QUIET).tolist(), up_or_down.tolist()
    left = [True] * len(beyond)
    for start in range(0, len(left), 2):
        at = start
        if left[at]:
            yield f"M{columns[at]} {rows[at]}"
        while left[at]:
            across = at ^ 1
            left[at] = left[across] = False
            at = beyond[across]
            yield f"H{columns[at]}V{rows[at]}"


def _corners(dark: Modules) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return where the lines between dark and light turn, row by row: places twice where two dark
    modules meet in nothing else.
    """
    padded = np.pad(dark, 1)
    upright = padded[:, 1:] ^ padded[:, :-1]
    turns = (upright[1:] ^ upright[:-1]).astype(np.intp)
    turns += 2 * (upright[1:] & upright[:-1] & (padded[1:, 1:] ^ padded[:-1, 1:]))
    places = np.flatnonzero(turns)
    ys, xs = np.divmod(np.repeat(places, turns.ravel()[places]), turns.shape[1])
    return xs, ys
