"""The sections of the summary page about rooms, sets and sheets, and its cautions."""

from __future__ import annotations

from collections import Counter

from export.markup_text import in_markup
from export.summary.cautions import CAUTIONS
from export.summary.content import SetPictures, SummaryContent
from export.summary.marks import set_marks
from export.summary.markup import Align, Column, figure, folded, paragraph, section, table
from export.summary.turned_data import turned_data
from export.svg.hand_plan import HAND_IN_WORDS, hand_plan_svg
from parametric.geometry.hand import Hand


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
    markup = (
        table(columns, rows),
        _schedule(content),
        paragraph(HAND_IN_WORDS),
        f'<div class="plans">{plans}</div>',
    )
    return section("rooms", "Rooms", markup)


def sets_section(content: SummaryContent) -> str:
    """Return the pictures of each set in each hand, the plan of the hand beside them."""
    turned = {(each.set_name, each.hand): at for at, each in enumerate(content.turned)}
    markup = [_set(each, turned.get((each.set_name, each.hand))) for each in content.sets]
    if turned:
        markup.append(turned_data(content.turned))
    return section("sets", "Sets", markup)


def maps_section(content: SummaryContent) -> str:
    """Return the sheet maps, material by material; nothing where no sheet is cut."""
    if not content.sheet_maps:
        return ""
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


def _schedule(content: SummaryContent) -> str:
    """Return which set each room gets, folded away; nothing where there is no schedule."""
    if not content.schedule:
        return ""
    columns = (Column("room"), Column("floor"), Column("set"), Column("hand"))
    rows = ((each.number, each.floor, each.set_name, each.hand) for each in content.schedule)
    marks = (
        {"room": each.number, "sets": set_marks([(each.set_name, each.hand)])}
        for each in content.schedule
    )
    return folded(f"Room by room: {len(content.schedule)}", (table(columns, rows, marks),))


def _set(pictures: SetPictures, turned: int | None) -> str:
    shown = "".join(figure(picture.svg, picture.caption) for picture in pictures.pictures)
    turning = "" if turned is None else f'<div class="turn" data-turn="{turned}"></div>\n'
    return (
        f"<h3>{in_markup(pictures.set_name)}, {in_markup(pictures.hand)} hand</h3>\n{turning}"
        f'<div class="set">{figure(hand_plan_svg(pictures.hand), "", "plan")}'
        f'<div class="pictures">{shown}</div></div>\n'
    )
