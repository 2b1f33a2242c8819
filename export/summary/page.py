"""The summary page: one HTML file that needs nothing else, on screen and on paper."""

from __future__ import annotations

from export.summary.bar_section import bars_section
from export.summary.content import SummaryContent
from export.summary.markup import page
from export.summary.part_sections import parts_section, yield_section
from export.summary.sections import (
    cautions_section,
    findings_section,
    headline,
    left_out_section,
    maps_section,
    papers_section,
    rooms_section,
    sets_section,
)
from export.summary.strength_section import strength_section


def summary_html(content: SummaryContent) -> str:
    """Return the page as HTML. It refers to nothing outside itself."""
    body = "".join(
        (
            headline(content),
            left_out_section(content),
            rooms_section(content),
            findings_section(content),
            strength_section(content.findings, content.not_checked),
            sets_section(content),
            papers_section(content),
            yield_section(content),
            maps_section(content),
            bars_section(content),
            parts_section(content),
            cautions_section(),
        )
    )
    return page(f"{content.job}: summary", body)
