"""The summary page: one HTML file that needs nothing else, on screen and on paper."""

from __future__ import annotations

from html import escape

from export.summary.bar_section import bars_section
from export.summary.content import SummaryContent
from export.summary.part_sections import parts_section, yield_section
from export.summary.sections import (
    cautions_section,
    findings_section,
    headline,
    maps_section,
    rooms_section,
    sets_section,
)
from export.summary.style import STYLE


def summary_html(content: SummaryContent) -> str:
    """Return the page as HTML. It refers to nothing outside itself."""
    body = "".join(
        (
            headline(content),
            rooms_section(content),
            findings_section(content),
            sets_section(content),
            yield_section(content),
            maps_section(content),
            bars_section(content),
            parts_section(content),
            cautions_section(),
        )
    )
    return (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(content.job)}: summary</title>\n<style>{STYLE}</style></head>\n"
        f"<body>\n{body}</body></html>\n"
    )
