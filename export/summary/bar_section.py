"""The section of the summary page about bars: what to buy, and a picture of each pattern."""

from __future__ import annotations

from itertools import groupby

from export.markup_text import in_markup
from export.summary.content import SummaryContent
from export.summary.markup import Align, Column, figure, paragraph, section, table
from export.svg.bar_picture import bar_picture_svg
from export.tables.bar_plan_table import cuts_in_words
from export.tables.profile_words import profile_shown
from nesting.linear.answer import length_yield, reusable_remnants
from nesting.linear.bar_nest import BarNest, numbered_patterns
from nesting.question.ticks import to_mm
from parametric.stock.lengths import Units, show_length

_COLUMNS = (
    Column("material"),
    Column("profile"),
    Column("bar length", Align.NUMBER),
    Column("bars to buy", Align.NUMBER),
    Column("at least", Align.NUMBER),
    Column("patterns", Align.NUMBER),
    Column("yield", Align.NUMBER),
    Column("left to keep"),
)


def bars_section(content: SummaryContent) -> str:
    """Return the bars to buy and how each is cut; nothing for a job without bars."""
    if not content.bar_nests:
        return ""
    patterns = numbered_patterns(content.bar_nests)
    longest = max(each.stock_length_mm for each in patterns)
    pictures = "".join(
        f"<h3>{in_markup(material)},"
        f" {in_markup(profile_shown(profile, content.units))}</h3>\n"
        + "".join(
            figure(
                bar_picture_svg(each, longest, content.units),
                cuts_in_words(each, content.units),
                "bar",
            )
            for each in members
        )
        for (material, profile), members in groupby(
            patterns, key=lambda each: (each.nest.material, each.nest.profile)
        )
    )
    end_trim = content.bar_nests[0].question.rules.end_trim
    markup = (
        table(
            _COLUMNS,
            (row for nest in content.bar_nests for row in _rows(nest, content.units)),
        ),
        paragraph(
            f"Each cut takes {_kerfs(content)}, and"
            f" {show_length(to_mm(end_trim), content.units)} are lost at each end of a bar."
            " 'At least' is a number of bars that no cut plan can do without. Pieces are pale, grey"
            " is lost, what is kept is white. Cut from the left, in order."
        ),
        pictures,
    )
    return section("bars", "Bars", markup)


def _rows(nest: BarNest, units: Units) -> list[tuple[object, ...]]:
    kept = ", ".join(
        f"{left.quantity} x {show_length(to_mm(left.length), units)}"
        for left in reusable_remnants(nest.question, nest.answer)
    )
    return [
        (
            nest.material,
            profile_shown(nest.profile, units),
            show_length(to_mm(bar.length), units),
            nest.answer.bars_of(bar.id),
            f"{nest.answer.lower_bound:.0f}",
            nest.answer.distinct,
            f"{100 * length_yield(nest.question, nest.answer):.1f} %",
            kept,
        )
        for bar in nest.question.bars
    ]


def _kerfs(content: SummaryContent) -> str:
    """Return what a cut takes, for each material where blades differ."""
    kerfs = {nest.material: nest.question.rules.kerf for nest in content.bar_nests}
    if len(set(kerfs.values())) == 1:
        return show_length(to_mm(next(iter(kerfs.values()))), content.units)
    each = (f"{show_length(to_mm(kerf), content.units)} in {name}" for name, kerf in kerfs.items())
    return " and ".join(each)
