"""A draft of the search as layouts in the sheets' own frame and identities."""

from nesting.answer.solution import Layout, Placement, canonical
from nesting.question.instance import Instance
from nesting.search.draft import Draft
from nesting.search.pattern import Pattern


def layouts_of(instance: Instance, draft: Draft) -> tuple[Layout, ...]:
    """Return the layouts of a draft in canonical order."""
    return canonical(_layout(instance, pattern, runs) for pattern, runs in draft)


def _layout(instance: Instance, pattern: Pattern, runs: int) -> Layout:
    trim = instance.rules.trim
    return Layout(
        stock=instance.stocks[pattern.room].id,
        placements=tuple(
            Placement(
                piece=instance.pieces[spot.item_type].id,
                x=trim.left + spot.x,
                y=trim.bottom + spot.y,
                turned=spot.turned,
            )
            for spot in pattern.spots
        ),
        runs=runs,
    )
