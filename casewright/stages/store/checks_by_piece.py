"""From the steps of a set to what is checked of each of its pieces before a room is signed."""

from __future__ import annotations

from collections.abc import Iterable

from export.store.sign_off import PieceChecks
from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import parts_of
from parametric.shapes.board import Board
from parametric.steps.step import Step
from parametric.steps.words import plain_name


def checks_by_piece(assembly: Assembly, steps: Iterable[Step]) -> tuple[PieceChecks, ...]:
    """Return what the steps check, each once of a piece, in the order in which the pieces come;
    those of which the same is checked are together. What a later step moves once more is checked
    where that leaves it: before, nobody sees it when the room is signed.
    """
    found: dict[str, dict[str, None]] = {}
    listed = tuple(steps)
    for at, step in enumerate(listed):
        moved = {name for later in listed[at + 1 :] for name in later.again}
        if moved.isdisjoint((*step.parts, *step.again)):
            found.setdefault(_about(assembly, step), {}).update(dict.fromkeys(step.checks))
    alike: dict[tuple[str, ...], list[str]] = {}
    for piece, checks in found.items():
        alike.setdefault(tuple(checks), []).append(piece)
    return tuple(PieceChecks(", ".join(pieces), checks) for checks, pieces in alike.items())


def _about(assembly: Assembly, step: Step) -> str:
    """Return what a step works on: a deck or top by itself, else the unit, or what ties units."""
    names = (*step.parts, *step.again)
    if not names:
        names = tuple(name for at in step.joints[:1] for name in parts_of(assembly.joints[at]))
    for angle in assembly.angles:
        if angle.name in names:
            return plain_name(angle.name)
    match [board for board in assembly.boards if board.name in names]:
        case [Board() as board] if board.facing.axis is Axis.Z:
            return plain_name(board.name)
        case _:
            return names[0].partition("/")[0]
