"""What the summary page does by itself: it searches, zooms and turns, and asks nothing of outside.

Without it the page shows the same tables and pictures, whole.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files

_IN_ORDER = ("parts.js", "search.js", "maps.js", "surface.js", "turn.js")


@cache
def page_script() -> str:
    """Return the script of the page, which runs once the page is read."""
    folder = files("export.summary") / "script"
    texts = "".join((folder / name).read_text(encoding="utf-8") for name in _IN_ORDER)
    return f'(() => {{\n"use strict";\n{texts}}})();\n'
