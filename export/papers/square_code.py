"""Square codes (ISO/IEC 18004) for papers and labels. The only door to what encodes them."""

from __future__ import annotations

import re

import numpy
import zxingcpp

QUIET = 4
"""Modules that stay free round a code (ISO/IEC 18004, 9.1, from memory)."""

_DARK = re.compile(rb"\x00+")


def code_svg(text: str) -> str:
    """Return the text as a square code with its quiet zone, error correction level M.

    It has no size of its own: all modules are one path, one unit each.

    Raises:
        ValueError: the text is longer than any code.
    """
    rows = _modules(text)
    side = len(rows) + 2 * QUIET
    data = "".join(
        f"M{QUIET + run.start()} {QUIET + y}h{len(run[0])}v1h-{len(run[0])}z"
        for y, row in enumerate(rows)
        for run in _DARK.finditer(row)
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}">'
        f'<path d="{data}" shape-rendering="crispEdges"/></svg>'
    )


def _modules(text: str) -> list[bytes]:
    """Return the modules from the top row down, 0 where one is dark."""
    # Without the note (ECI) other characters than ASCII would be read as those of Latin-1.
    note = {} if text.isascii() else {"eci": "UTF8"}
    kind = zxingcpp.BarcodeFormat.QRCode
    made = zxingcpp.create_barcode(text, kind, ec_level="M", **note)
    image = numpy.array(made.to_image(scale=1, add_quiet_zones=False))
    return [row.tobytes() for row in image]
