"""What a task is done in, so that each step is one thing: what is screwed together, a dozen screws
or so at a time, and then the setting in place of what was.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from parametric.geometry.space import Direction
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import Delivered, delivered
from parametric.joints.driving import bits_of
from parametric.joints.joints import Screwed, parts_of
from parametric.steps.carrying import is_turned_over
from parametric.steps.step import Step
from parametric.steps.tasks import Kind, Task
from parametric.steps.words import plain_name, step_of

MOST_SCREWS = 12
"""Screws that join parts in one step; common practice, no source."""

_JOINED = frozenset({Kind.GROUP, Kind.DECK, Kind.DRY})


def steps_of_task(
    assembly: Assembly,
    task: Task,
    show: Callable[[float], str],
    outwards: Mapping[str, Direction],
    closely: Callable[[float], str],
) -> tuple[Step, ...]:
    """Return the steps of a task in order, none numbered yet."""
    stays = task.kind is Kind.LAID
    whole = step_of(assembly, task, 0, show, outwards, closely)
    whole = replace(whole, again=task.again, stays=stays)
    screws = [at for at in task.joints if isinstance(assembly.joints[at], Screwed)]
    if task.kind not in _JOINED or not screws:
        return (whole,)
    turned = is_turned_over(assembly, task)
    portions = list(_portions(assembly, task, screws))
    together = [
        replace(
            step_of(assembly, _joining(task, parts, joints, turned), 0, show, outwards, closely),
            title=_together_title(task, turned, (number, len(portions))),
            tools=_driving(assembly, joints),
            marks=(),
            checks=_together_checks(turned),
            upside_down=turned,
            beside=before,
        )
        for number, (before, parts, joints) in enumerate(portions, start=1)
    ]
    others = tuple(at for at in task.joints if at not in screws)
    set_down = replace(
        whole,
        title=_place_title(task, turned),
        parts=(),
        joints=others,
        tools=tuple(tool for tool in whole.tools if tool not in _driving(assembly, screws)),
        cautions=tuple(text for text in whole.cautions if text != "Wear eye protection"),
        again=task.parts,
    )
    return (*together, set_down)


def _driving(assembly: Assembly, screws: Sequence[int]) -> tuple[str, ...]:
    """Return what drives the screws that join parts: the driver and its bits."""
    return ("driver", *bits_of(assembly.joints[at] for at in screws))


def _joining(task: Task, parts: tuple[str, ...], joints: tuple[int, ...], turned: bool) -> Task:
    """Return the joining as a task of its own, of which pieces are lifted one at a time."""
    kind = Kind.BOARD if turned or task.kind is not Kind.GROUP else Kind.GROUP
    return replace(task, kind=kind, parts=parts, joints=joints, joining=True)


def _portions(
    assembly: Assembly, task: Task, screws: Sequence[int]
) -> Iterator[tuple[tuple[str, ...], tuple[str, ...], tuple[int, ...]]]:
    """Yield parts that are there already, those that come to them, and the screws between them all;
    piece by piece, as many pieces at once as their screws allow.
    """
    pieces = sorted(
        (each for each in delivered(assembly) if not set(each.names).isdisjoint(task.parts)),
        key=lambda piece: piece.main is not _base(assembly, task.parts).main,
    )
    before: tuple[str, ...] = ()
    coming: list[str] = []
    left = list(screws)
    taken: list[int] = []
    for piece in pieces:
        there = {*before, *coming, *piece.names}
        more = [at for at in left if there.issuperset(parts_of(assembly.joints[at]))]
        if taken and len(taken) + len(more) > MOST_SCREWS:
            yield before, tuple(coming), tuple(taken)
            before, coming, taken = (*before, *coming), [], []
        coming += piece.names
        taken += more
        left = [at for at in left if at not in more]
    yield before, tuple(coming), (*taken, *left)


def _base(assembly: Assembly, parts: Sequence[str]) -> Delivered:
    return base_of([each for each in delivered(assembly) if not set(each.names).isdisjoint(parts)])


def base_of(pieces: Sequence[Delivered]) -> Delivered:
    """Return the piece that the others are brought to: the heaviest, the first of equal ones."""
    return max(pieces, key=lambda piece: round(piece.mass_kg, 3))


def _together_title(task: Task, turned: bool, count: tuple[int, int]) -> str:
    about = plain_name(task.about)
    if task.kind is Kind.GROUP:
        how = "upside down" if turned else "where it will stand"
        title = f"Put the {about} together {how}"
    else:
        title = f"Screw the legs under the {about}, upside down"
    number, of = count
    return title if of == 1 else f"{title}, {number} of {of}"


def _place_title(task: Task, turned: bool) -> str:
    about = plain_name(task.about)
    first = f"Turn the {about} over" if turned else ""
    match task.kind:
        case Kind.DRY:
            return f"{first}, lay it dry against its neighbour, mark, lift it off"
        case Kind.DECK:
            return f"{first}, lay it on"
        case _:
            return (
                f"{first}, set it in place"
                if turned
                else f"Set the {about} in its place, level and square"
            )


def _together_checks(turned: bool) -> tuple[str, ...]:
    lies = "Laid upside down on something that will not scratch it" if turned else ""
    every = "Every screw that joins its pieces is driven home, joints tight"
    return tuple(filter(None, (lies, every)))
