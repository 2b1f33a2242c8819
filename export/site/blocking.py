"""The blocking plan: what the walls need before the set comes."""

from __future__ import annotations

from export.site.content import BlockingPlan, WallElevation
from export.site.pictures import wall_svg
from export.site.source import DEFERS, WALLS, Source, cautions, document, head, quoted, table
from parametric.findings.finding import AID_ONLY
from parametric.stock.paper import Paper

_HEADS = ("zone", "from the corner", "to", "above the floor", "to", "screws")
_COLUMNS = "(14mm, 1fr, 1fr, 1fr, 1fr, 18mm)"


def blocking_source(plan: BlockingPlan, paper: Paper) -> Source:
    """Return the plan of one set in one hand: a page for each wall that is screwed to."""
    pictures = [
        (f"wall-{index}.svg", wall_svg(wall)) for index, wall in enumerate(plan.walls, start=1)
    ]
    pages = [_page(plan, wall, name) for wall, (name, _) in zip(plan.walls, pictures, strict=True)]
    return document(paper, plan.job, pages, pictures)


def _page(plan: BlockingPlan, wall: WallElevation, picture: str) -> str:
    below = f"{plan.set_name}, {plan.hand} hand, seen from the room; heights from finished floor"
    return "\n".join(
        (
            head(f"Blocking: {wall.title}", below, plan.hand),
            f"#picture({quoted(picture)})",
            table(_HEADS, _COLUMNS, wall.rows),
            cautions((WALLS, AID_ONLY, DEFERS)),
        )
    )
