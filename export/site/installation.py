"""The installation sheets: one page a step."""

from __future__ import annotations

from export.papers.blocks import (
    Beside,
    Block,
    Cautions,
    Head,
    Numbered,
    Page,
    Share,
    Table,
    Ticked,
    Whole,
    Width,
)
from export.papers.cautions import DEFERS, NO_CERTIFICATE, WALLS
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.site.content import SetSheets, StepSheet
from export.site.page_room import list_mm, picture_height_mm, room_mm
from export.site.views_on_page import views_on_page
from parametric.stock.paper import Paper

CUTTING = "Wear eye and ear protection and keep the dust down when drilling or cutting"
KIT_HEADS = ("packed", "of which spare", "article")
KIT_WIDTHS: tuple[Width, ...] = (24.0, 30.0, Share())
_HALVES = (Share(), Share())


def installation_source(sheets: SetSheets, paper: Paper) -> Source:
    """Return the sheets of one set in one hand: what is in the kit, then a page for each step."""
    below = f"{sheets.hand} hand, {sheets.effort}"
    first = Page(
        blocks=(
            Head(
                title=f"Set {sheets.set_name}", below=below, hand=sheets.hand, stands=sheets.stands
            ),
            Table(
                heads=("letter", *KIT_HEADS),
                widths=(22.0, *KIT_WIDTHS),
                rows=sheets.kit,
                title="Kit of one room",
            ),
            Ticked(title="Before the first step", items=sheets.before),
            *_overview(tuple(each.title for each in sheets.steps), paper),
        )
    )
    steps = (
        _step_page(sheets, number, step, paper) for number, step in enumerate(sheets.steps, start=1)
    )
    return document(page_format(paper), sheets.job, (first, *steps))


def _overview(titles: tuple[str, ...], paper: Paper) -> tuple[Block, ...]:
    """Return the steps in two columns, which no end of a page tears where one page holds them."""
    cautions = (WALLS, CUTTING, NO_CERTIFICATE, DEFERS)
    blocks: tuple[Block, ...] = (Numbered(title="Steps", items=titles), Cautions(cautions))
    half = (len(titles) + 1) // 2
    longer_mm = max(list_mm(titles[:half]), list_mm(titles[half:]))
    return (Whole(blocks),) if longer_mm < room_mm(paper, cautions) else blocks


def _step_page(sheets: SetSheets, number: int, step: StepSheet, paper: Paper) -> Page:
    people = f"{step.people} people" if step.people != 1 else "1 person"
    below = f"set {sheets.set_name}, {sheets.hand} hand, {people}"
    cautions = (*step.cautions, DEFERS)
    left = (
        Table(
            heads=("count", "part", "name"),
            widths=(14.0, None, Share()),
            rows=step.parts,
            title="Parts",
        ),
        Table(
            heads=("at", "what", "length"),
            widths=(12.0, Share(), None),
            rows=step.marks,
            title="To mark",
        ),
        Ticked(title="Do", items=step.work),
    )
    right = (
        Table(
            heads=("at", "count", "article"),
            widths=(None, None, Share()),
            rows=step.fasteners,
            title="Fasteners",
        ),
        Ticked(title="Tools", items=step.tools),
        Ticked(title="Check", items=step.checks),
    )
    return Page(
        blocks=(
            Head(
                title=f"{number}. {step.title}", below=below, hand=sheets.hand, stands=sheets.stands
            ),
            *views_on_page(step.title, step.pictures, picture_height_mm(step, cautions, paper)),
            Beside(columns=(left, right), widths=_HALVES),
            Cautions(cautions),
        )
    )
