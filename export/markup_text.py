"""Text between the tags of HTML and SVG, and data within a script element of HTML."""

from __future__ import annotations

from html import escape

from export.json_text import json_text
from export.visible_text import visible


def in_markup(text: str) -> str:
    """Return the text so that a reader of HTML or SVG sees it whole and obeys none of it.

    What steers a display is shown as an escape; XML 1.0 could not hold all of it in any other way.
    """
    return escape(visible(text))


def in_script(content: object) -> str:
    """Return the content as JSON that stands in a script element and cannot end it.

    Raises:
        ValueError: a number is not finite.
    """
    # In JSON these characters stand within texts only, where an escape means the same.
    text = json_text(content)
    return text.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e")
