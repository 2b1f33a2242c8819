"""The blocking plan: what the walls need before the set comes."""

from __future__ import annotations

from collections.abc import Sequence

from export.site.content import BlockingPlan, WallElevation
from export.site.pictures import wall_scale, wall_svg
from export.site.source import DEFERS, WALLS, Source, cautions, document, head, quoted, table
from parametric.findings.finding import AID_ONLY
from parametric.stock.paper import Paper

_HEADS = ("zone", "from the corner", "above the floor", "block at least", "screws", "load on one")
_COLUMNS = "(11mm, 1fr, 1fr, 1.2fr, 15mm, 1fr)"
_WITHOUT = (*_HEADS[:3], "each screw: along; up", *_HEADS[4:])
_WIDER = "(11mm, 0.87fr, 0.84fr, 1.65fr, 15mm, 1.05fr)"
WALLS_ON_A_PAGE = 2


def blocking_source(plan: BlockingPlan, paper: Paper) -> Source:
    """Return the plan of one set in one hand: all walls that are screwed to, two on a page, drawn
    to one scale.
    """
    scale = wall_scale(plan.walls)
    pictures = [
        (f"wall-{index}.svg", wall_svg(wall, scale))
        for index, wall in enumerate(plan.walls, start=1)
    ]
    named = list(zip(plan.walls, (name for name, _ in pictures), strict=True))
    firsts = range(0, len(named), WALLS_ON_A_PAGE)
    pages = [_page(plan, named[at : at + WALLS_ON_A_PAGE], scale) for at in firsts]
    return document(paper, plan.job, pages, pictures)


def _page(plan: BlockingPlan, walls: Sequence[tuple[WallElevation, str]], scale: float) -> str:
    listed = [wall for wall, _ in walls]
    titles = " and ".join(wall.title for wall in listed)
    blocked = all(wall.wants_blocking for wall in listed)
    below = (
        f"{plan.set_name}, {plan.hand} hand, {_rooms(plan)}. Seen from the room,"
        f" 1 : {1 / scale:.0f}; heights from finished floor. Zones and blocks are rounded outwards"
        f" to {plan.rounded}, screw positions to the nearest."
    )
    of_walls = dict.fromkeys(text for wall in listed for text in wall.cautions)
    return "\n".join(
        (
            head(f"{'Blocking' if blocked else 'Wall fixings'}: {titles}", below, plan.hand),
            # First, since the walls may go on to another page.
            cautions((WALLS, *of_walls, AID_ONLY, DEFERS)),
            *(_wall(wall, picture, listed[0]) for wall, picture in walls),
        )
    )


def _wall(wall: WallElevation, picture: str, first: WallElevation) -> str:
    """Return a wall: its name, what it must have, its picture and its table."""
    alike = wall is not first and wall.wanted == first.wanted
    wanted = f"Made as the {first.title}." if alike else " ".join(wall.wanted)
    blocked = wall.wants_blocking
    return "\n".join(
        (
            f"#wall({quoted(wall.title)}, {quoted(wanted)}, {quoted(picture)})",
            table(_HEADS if blocked else _WITHOUT, _COLUMNS if blocked else _WIDER, wall.rows),
        )
    )


def _rooms(plan: BlockingPlan) -> str:
    if not plan.rooms:
        return "no room"
    return f"{'room' if len(plan.rooms) == 1 else 'rooms'} {', '.join(plan.rooms)}"
