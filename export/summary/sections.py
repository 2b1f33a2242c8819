"""The sections of the summary page that come before the tables of parts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from export.markup_text import in_markup
from export.summary.cautions import CAUTIONS
from export.summary.checks_table import checks_table
from export.summary.content import SetPictures, SummaryContent
from export.summary.markup import Align, Column, figure, key_figures, paragraph, section, table
from export.svg.hand_plan import HAND_IN_WORDS, hand_plan_svg
from parametric.findings.finding import Severity
from parametric.findings.telling import ToldFinding
from parametric.geometry.hand import Hand

_TOLD = (Severity.FAIL, Severity.WARN)


def headline(content: SummaryContent) -> str:
    """Return the page's title, its key figures and the links to its sections."""
    links = "".join(
        f'<a href="#{anchor}">{words}</a>'
        for anchor, words in (
            *((("left-out", "Not complete"),) if content.left_out else ()),
            ("rooms", "Rooms"),
            ("findings", "Findings"),
            *((("strength", "Strength"),) if _about_strength(content) else ()),
            ("sets", "Sets"),
            *((("papers", "Papers"),) if content.papers else ()),
            ("sheets", "Sheets"),
            *((("bars", "Bars"),) if content.bar_nests else ()),
            ("parts", "Cut list"),
            ("cautions", "Cautions"),
        )
    )
    return (
        f"<header><h1>{in_markup(content.job)}</h1>\n<nav>{links}</nav>\n"
        f"{key_figures(_key_figures(content))}</header>\n"
    )


def left_out_section(content: SummaryContent) -> str:
    """Return which materials are on no sheet or bar, and why; nothing if all are."""
    if not content.left_out:
        return ""
    intro = paragraph(
        "This is not the whole job: sheets or bars of these materials are missing, as their stock"
        " does not suffice. Their parts are in the cut list, the models and the part files; sheets,"
        " yield and cost are of the other materials alone."
    )
    columns = (Column("material"), Column("left out"), Column("why"))
    rows = ((entry.material, entry.form, entry.why) for entry in content.left_out)
    return section("left-out", "Not complete", (intro, table(columns, rows)))


def rooms_section(content: SummaryContent) -> str:
    """Return how many rooms get which set in which hand, and what a hand is."""
    counts: dict[str, Counter[Hand]] = {}
    for row in content.rooms:
        counts.setdefault(row.set_name, Counter())[row.hand] += row.rooms
    columns = (
        Column("set"),
        Column("right hand", Align.NUMBER),
        Column("left hand", Align.NUMBER),
        Column("rooms", Align.NUMBER),
    )
    rows = [
        (name, by_hand[Hand.RIGHT], by_hand[Hand.LEFT], by_hand.total())
        for name, by_hand in counts.items()
    ]
    if len(rows) > 1:
        rights, lefts = sum(row[1] for row in rows), sum(row[2] for row in rows)
        rows.append(("all", rights, lefts, rights + lefts))
    plans = "".join(figure(hand_plan_svg(hand), "", "plan") for hand in Hand)
    markup = (table(columns, rows), paragraph(HAND_IN_WORDS), f'<div class="plans">{plans}</div>')
    return section("rooms", "Rooms", markup)


def findings_section(content: SummaryContent) -> str:
    """Return the findings: counts of all, each kind of check, and all that warns or fails."""
    counts = Counter(finding.severity for finding in content.findings)
    words = ", ".join(f"{counts[severity]} {severity}" for severity in Severity)
    told = [f for severity in _TOLD for f in content.findings if f.severity is severity]
    markup = [paragraph(f"{len(content.findings)} checks: {words}.")]
    markup.append(checks_table(content.findings))
    if told:
        columns = (
            Column("result"),
            Column("where"),
            Column("finding"),
            Column("measured", Align.NUMBER),
            Column("limit", Align.NUMBER),
            Column("source of the limit"),
            Column("advice"),
        )
        markup.append(table(columns, (_finding_row(finding) for finding in told)))
    return section("findings", "Findings", markup)


def sets_section(content: SummaryContent) -> str:
    """Return the pictures of each set in each hand, the plan of the hand beside them."""
    return section("sets", "Sets", (_set(pictures) for pictures in content.sets))


def papers_section(content: SummaryContent) -> str:
    """Return links to the papers for the site; nothing if there are none."""
    if not content.papers:
        return ""
    links = "".join(
        f'<li><a href="{in_markup(path)}">{in_markup(path)}</a></li>\n' for path in content.papers
    )
    return section("papers", "Papers for the site", (f'<ul class="papers">\n{links}</ul>\n',))


def maps_section(content: SummaryContent) -> str:
    """Return the sheet maps, material by material."""
    by_material: dict[str, list[str]] = {}
    for sheet in content.sheet_maps:
        by_material.setdefault(sheet.material, []).append(figure(sheet.svg, sheet.file))
    intro = paragraph(
        "Drawn from the cut files. Parts are pale, grooves and blind holes grey, what goes right"
        " through is white."
    )
    markup = (
        f'<h3>{in_markup(material)}</h3>\n<div class="maps">{"".join(maps)}</div>\n'
        for material, maps in by_material.items()
    )
    return section("maps", "Sheet maps", (intro, *markup))


def cautions_section() -> str:
    """Return what to take care of."""
    items = "".join(
        f"<p><strong>{in_markup(subject)}.</strong> {in_markup(words)}</p>\n"
        for subject, words in CAUTIONS
    )
    return section("cautions", "Cautions", (items,))


def _about_strength(content: SummaryContent) -> bool:
    return bool(content.not_checked) or any(finding.basis for finding in content.findings)


def _key_figures(content: SummaryContent) -> Iterator[tuple[str, str]]:
    parts, bars = content.cut_list.parts, content.cut_list.bars
    bounds = {(row.material.key, row.face_up): row.least_in_mix for row in content.yield_rows}
    counts = Counter(finding.severity for finding in content.findings)
    yield "rooms", str(sum(row.rooms for row in content.rooms))
    yield "sheet parts", f"{sum(part.quantity for part in parts)} ({len(parts)} different)"
    yield "bars", f"{sum(bar.quantity for bar in bars)} ({len(bars)} different)"
    yield "sheets", str(sum(row.sheets for row in content.yield_rows))
    yield "sheets needed at least", str(sum(bounds.values()))
    if content.bar_nests:
        yield "bars to buy", str(sum(nest.answer.bars for nest in content.bar_nests))
    yield "warnings", str(counts[Severity.WARN])
    yield "failures", str(counts[Severity.FAIL])


def _finding_row(finding: ToldFinding) -> tuple[object, ...]:
    return (
        finding.severity.upper(),
        finding.where,
        f"{finding.message} ({finding.code})",
        finding.shown,
        finding.shown_limit,
        finding.source,
        finding.advice,
    )


def _set(pictures: SetPictures) -> str:
    shown = "".join(figure(picture.svg, picture.caption) for picture in pictures.pictures)
    return (
        f"<h3>{in_markup(pictures.set_name)}, {in_markup(pictures.hand)} hand</h3>\n"
        f'<div class="set">{figure(hand_plan_svg(pictures.hand), "", "plan")}'
        f'<div class="pictures">{shown}</div></div>\n'
    )
