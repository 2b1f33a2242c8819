"""Text between the tags of HTML and SVG."""

from __future__ import annotations

from html import escape

from export.visible_text import visible


def in_markup(text: str) -> str:
    """Return the text so that a reader of HTML or SVG sees it whole and obeys none of it.

    What steers a display is shown as an escape; XML 1.0 could not hold all of it in any other way.
    """
    return escape(visible(text))
