"""The installation sheets: one page a step."""

from __future__ import annotations

from export.site.content import SetSheets, StepSheet
from export.site.page_room import picture_height_mm
from export.site.source import (
    DEFERS,
    WALLS,
    Source,
    array,
    cautions,
    document,
    head,
    quoted,
    table,
)
from export.site.views_on_page import views_on_page
from parametric.findings.finding import AID_ONLY
from parametric.stock.paper import Paper

CUTTING = "Wear eye and ear protection and keep the dust down when drilling or cutting"
KIT_HEADS = ("packed", "of which spare", "article")
KIT_COLUMNS = "(24mm, 30mm, 1fr)"


def installation_source(sheets: SetSheets, paper: Paper) -> Source:
    """Return the sheets of one set in one hand: what is in the kit, then a page for each step."""
    first = [
        head(f"Set {sheets.set_name}", f"{sheets.hand} hand, {sheets.effort}", sheets.hand),
        table(("letter", *KIT_HEADS), f"(22mm, {KIT_COLUMNS[1:]}", sheets.kit, "Kit of one room"),
        f"#lines({quoted('Before the first step')}, {array(sheets.before)})",
        f"#overview({quoted('Steps')}, {array(each.title for each in sheets.steps)})",
        cautions((WALLS, CUTTING, AID_ONLY, DEFERS)),
    ]
    pages = ["\n".join(first)]
    pictures: list[tuple[str, str]] = []
    for number, step in enumerate(sheets.steps, start=1):
        height_mm = picture_height_mm(step, (*step.cautions, DEFERS), paper)
        shown, files = views_on_page(f"step-{number}", step.title, step.pictures, height_mm)
        pictures += files
        pages.append(_step_page(sheets, number, step, shown))
    return document(paper, sheets.job, pages, pictures)


def _step_page(sheets: SetSheets, number: int, step: StepSheet, pictures: str) -> str:
    people = f"{step.people} people" if step.people != 1 else "1 person"
    below = f"set {sheets.set_name}, {sheets.hand} hand, {people}"
    fasteners = table(("at", "count", "article"), "(auto, auto, 1fr)", step.fasteners, "Fasteners")
    marks = table(("at", "what", "length"), "(12mm, 1fr, auto)", step.marks, "To mark")
    parts = table(("count", "part", "name"), "(14mm, auto, 1fr)", step.parts, "Parts")
    left = f"[{parts}\n{marks}\n#lines({quoted('Do')}, {array(step.work)})]"
    right = (
        f"[{fasteners}\n#lines({quoted('Tools')}, {array(step.tools)})"
        f"\n#lines({quoted('Check')}, {array(step.checks)})]"
    )
    return "\n".join(
        (
            head(f"{number}. {step.title}", below, sheets.hand),
            pictures,
            f"#grid(columns: (1fr, 1fr), column-gutter: 6mm, {left}, {right})",
            cautions((*step.cautions, DEFERS)),
        )
    )
