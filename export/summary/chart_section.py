"""The chart of yield and cost: two bars for each material, with their figures as text."""

from __future__ import annotations

from export.markup_text import in_markup
from export.summary.content import SummaryContent
from export.summary.markup import paragraph, section
from export.summary.stock_figures import MaterialFigures, material_figures
from export.svg.elements import number
from export.tables.csv_text import fixed

_LONG = 100.0


def chart_section(content: SummaryContent) -> str:
    """Return the chart; nothing where no sheet is cut."""
    figures = material_figures(content.yield_rows)
    if not figures:
        return ""
    dearest = max(each.cost for each in figures)
    intro = paragraph(
        "The upper bar is the sheets of a material: dark becomes parts, light is left. The lower"
        " bar is what they cost; the longest is the dearest material."
    )
    rows = "".join(_material(each, dearest, content.currency) for each in figures)
    return section("chart", "Yield and cost", (intro, f'<div class="chart">\n{rows}</div>\n'))


def _material(figures: MaterialFigures, dearest: float, currency: str) -> str:
    cost = figures.cost / dearest if dearest else 0.0
    parts = f"{fixed(100 * figures.share_used, 1)} % becomes parts"
    money = f"{fixed(figures.cost, 2)} {currency}, {_sheets(figures.sheets)}"
    return (
        f"<div><h3>{in_markup(figures.material)}</h3>\n"
        f"{_bar(figures.share_used, 'yield')}{paragraph(parts)}"
        f"{_bar(cost, 'cost')}{paragraph(money)}</div>\n"
    )


def _bar(share: float, kind: str) -> str:
    """Return a bar that is dark as far as the share goes, with a frame as long as all of it."""
    long = number(_LONG * min(share, 1.0))
    return (
        f'<svg class="share {kind}" viewBox="0 0 {number(_LONG)} 6" preserveAspectRatio="none"'
        f' aria-hidden="true"><rect class="all" width="{number(_LONG)}" height="6"/>'
        f'<rect class="part" width="{long}" height="6"/></svg>\n'
    )


def _sheets(count: int) -> str:
    return f"{count} {'sheet' if count == 1 else 'sheets'}"
