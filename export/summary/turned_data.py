"""The sets that the page lets people turn, as data for its script."""

from __future__ import annotations

from collections.abc import Iterable

from export.markup_text import in_script
from export.summary.content import TurnedSet
from export.visible_text import visible


def turned_data(sets: Iterable[TurnedSet]) -> str:
    """Return the sets as a script element that holds data and does nothing. Names are shown as they
    stand there, so that what steers a display is an escape already.
    """
    listed = [
        {
            "name": visible(f"{each.set_name}, {each.hand} hand"),
            "hand": each.hand,
            "parts": [
                {
                    "part": visible(part.number),
                    "name": visible(part.name),
                    "points": part.points,
                    "triangles": part.triangles,
                }
                for part in each.parts
            ],
        }
        for each in sets
    ]
    return f'<script type="application/json" id="turned-sets">{in_script(listed)}</script>\n'
