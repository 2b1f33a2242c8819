"""The blocking plan: what the walls need before the set comes."""

from __future__ import annotations

from collections.abc import Sequence

from export.dimensions.scales import told_scale
from export.papers.blocks import (
    Block,
    Cautions,
    Head,
    Named,
    Page,
    Paragraph,
    Picture,
    Share,
    Table,
    Width,
)
from export.papers.cautions import DEFERS, NO_CERTIFICATE, WALLS
from export.papers.page_format import page_format
from export.papers.typesetting import Source, document
from export.site.content import BlockingPlan, WallElevation
from export.site.wall_picture import WALL_SIZE_MM, wall_scale, wall_svg
from parametric.stock.paper import Paper

_HEADS = ("zone", "from the corner", "above the floor", "block at least", "screws", "load on one")
_WIDTHS: tuple[Width, ...] = (11.0, Share(), Share(), Share(1.2), 15.0, Share())
_WITHOUT = (*_HEADS[:3], "each screw: along; up", *_HEADS[4:])
_WIDER: tuple[Width, ...] = (11.0, Share(0.87), Share(0.84), Share(1.65), 15.0, Share(1.05))
WALLS_ON_A_PAGE = 2


def blocking_source(plan: BlockingPlan, paper: Paper) -> Source:
    """Return the plan of one set in one hand: all walls that are screwed to, two on a page where
    they are not too high for it, drawn to one scale.
    """
    scale = wall_scale(plan.walls, plan.units)
    firsts = range(0, len(plan.walls), WALLS_ON_A_PAGE)
    pages = [_page(plan, plan.walls[at : at + WALLS_ON_A_PAGE], scale) for at in firsts]
    return document(page_format(paper), plan.job, pages)


def _page(plan: BlockingPlan, walls: Sequence[WallElevation], scale: float) -> Page:
    titles = " and ".join(wall.title for wall in walls)
    blocked = [wall.wants_blocking for wall in walls]
    told = []
    if any(blocked):
        told.append(f"Zones and blocks are rounded outwards to {plan.rounded}; a cross is a screw.")
    if not all(blocked):
        told.append(f"Screws are told to the nearest {plan.rounded}, zones outwards.")
    below = (
        f"{plan.set_name}, {plan.hand} hand, {_rooms(plan)}. Seen from the room,"
        f" {told_scale(round(1 / scale, 6), plan.units)}; heights from finished floor."
        f" {' '.join(told)}"
    )
    title = f"{'Blocking' if all(blocked) else 'Wall fixings'}: {titles}"
    of_walls = dict.fromkeys(text for wall in walls for text in wall.cautions)
    blocks: list[Block] = [
        Head(title=title, below=below, hand=plan.hand, stands=plan.stands),
        # First, since the walls may go on to another page.
        Cautions((WALLS, *of_walls, NO_CERTIFICATE, DEFERS)),
    ]
    for wall in walls:
        blocks += _wall(plan, wall, scale, walls[0])
    return Page(blocks=tuple(blocks))


def _wall(
    plan: BlockingPlan, wall: WallElevation, scale: float, first: WallElevation
) -> tuple[Block, ...]:
    """Return a wall: its name, what it must have, its picture and its table."""
    alike = wall is not first and wall.wanted == first.wanted
    wanted = f"Made as the {first.title}." if alike else " ".join(wall.wanted)
    picture = Picture(svg=wall_svg(wall, scale), width_mm=WALL_SIZE_MM[0])
    shown = Paragraph(wanted), picture
    heads, widths = (_HEADS, _WIDTHS) if wall.wants_blocking else (_WITHOUT, _WIDER)
    # The second one may stand on a page without a head.
    title = wall.title if wall is first else f"{wall.title}: {plan.set_name}, {plan.hand} hand"
    return (
        Named(title=title, blocks=shown, whole=True, with_next=True),
        Table(heads=heads, widths=widths, rows=wall.rows),
    )


def _rooms(plan: BlockingPlan) -> str:
    if not plan.rooms:
        return "no room"
    return f"{'room' if len(plan.rooms) == 1 else 'rooms'} {', '.join(plan.rooms)}"
