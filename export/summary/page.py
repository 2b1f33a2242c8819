"""The summary page: one HTML file that needs nothing else, on screen and on paper."""

from __future__ import annotations

from export.summary.bar_section import bars_section
from export.summary.chart_section import chart_section
from export.summary.content import SummaryContent
from export.summary.findings_section import findings_section
from export.summary.first_screen import first_screen
from export.summary.markup import page
from export.summary.page_script import page_script
from export.summary.papers_section import papers_section
from export.summary.part_sections import parts_section, yield_section
from export.summary.sections import (
    cautions_section,
    left_out_section,
    maps_section,
    rooms_section,
    sets_section,
)
from export.summary.strength_section import strength_section


def summary_html(content: SummaryContent) -> str:
    """Return the page as HTML. It refers to nothing outside itself."""
    shown = [
        (anchor, words, markup)
        for anchor, words, markup in (
            ("left-out", "Not complete", left_out_section(content)),
            ("findings", "Findings", findings_section(content.findings)),
            ("sets", "Sets", sets_section(content)),
            ("rooms", "Rooms", rooms_section(content)),
            ("papers", "Papers", papers_section(content.papers)),
            ("chart", "Yield and cost", chart_section(content)),
            ("sheets", "Sheets", yield_section(content)),
            ("maps", "Sheet maps", maps_section(content)),
            ("bars", "Bars", bars_section(content)),
            ("parts", "Cut list", parts_section(content)),
            ("strength", "Strength", strength_section(content.findings, content.not_checked)),
            ("cautions", "Cautions", cautions_section()),
        )
        if markup
    ]
    head = first_screen(content, ((anchor, words) for anchor, words, _ in shown))
    body = head + "".join(markup for *_, markup in shown)
    return page(f"{content.job}: summary", body, page_script())
