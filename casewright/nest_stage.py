"""From the cut list to nests: the one place where parts become pieces on sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from casewright.errors import DoesNotFit
from casewright.progress import BuildProgress
from export.manifest import FaceUp
from nesting.errors import NotEnoughStock, PieceTooBig
from nesting.instance import Instance, Piece, SheetRules, Stock, Turn
from nesting.solution import Solution
from nesting.solve import solve
from nesting.ticks import gap_ticks, piece_ticks, sheet_ticks
from parametric.cut_list import CutList, Part
from parametric.materials import GoodFaces, Grain, SheetMaterial
from parametric.panel import Face


@dataclass(frozen=True, slots=True, kw_only=True)
class NestGroup:
    """The parts that share sheets: one material, its good face lying the same way."""

    material: SheetMaterial
    face_up: FaceUp
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Nest:
    """A group, the question it poses, and how its parts lie on sheets."""

    group: NestGroup
    instance: Instance
    solution: Solution


def nest_groups(parts: Iterable[Part]) -> tuple[NestGroup, ...]:
    """Return the groups in the order in which their first parts are numbered."""
    groups: dict[tuple[str, FaceUp], list[Part]] = {}
    for part in parts:
        groups.setdefault((part.material.key, face_up(part)), []).append(part)
    return tuple(
        NestGroup(material=members[0].material, face_up=face, parts=tuple(members))
        for (_, face), members in groups.items()
    )


def face_up(part: Part) -> FaceUp:
    """Return how a sheet must lie for the part to be cut from it."""
    if part.material.good_faces is not GoodFaces.ONE:
        return FaceUp.EITHER
    return FaceUp.FRONT if part.front is Face.UP else FaceUp.BACK


def nest_all(
    cut_list: CutList, trim_mm: float, gap_mm: float, progress: BuildProgress
) -> tuple[Nest, ...]:
    """Return the nests of all groups; sheets on hand are used up group by group.

    Raises:
        DoesNotFit: a part fits no stock sheet, or the sheets on hand do not suffice.
    """
    rules = SheetRules(trim=gap_ticks(trim_mm), gap=gap_ticks(gap_mm))
    used: Counter[tuple[str, str]] = Counter()
    nests = []
    groups = nest_groups(cut_list.parts)
    progress.stage("nests", len(groups))
    for group in groups:
        instance = nest_instance(group, rules, used)
        solution = solved(group, instance)
        progress.step(f"{group.material.key}: {solution.sheets} sheets")
        for layout in solution.layouts:
            used[group.material.key, layout.stock] += layout.runs
        nests.append(Nest(group=group, instance=instance, solution=solution))
    return tuple(nests)


def solved(group: NestGroup, instance: Instance) -> Solution:
    """Return the verified nest of a group.

    Raises:
        DoesNotFit: a part fits no stock sheet, or the sheets on hand do not suffice.
    """
    try:
        return solve(instance)
    except (PieceTooBig, NotEnoughStock) as error:
        raise DoesNotFit(f"materials.{group.material.key}.stock: {error}") from error


def nest_instance(group: NestGroup, rules: SheetRules, used: Counter[tuple[str, str]]) -> Instance:
    """Return the group as pieces and stock, less the sheets that are already used."""
    turn = Turn.QUARTER if group.material.grain is Grain.NONE else Turn.FIXED
    pieces = tuple(
        Piece(
            id=part.number,
            length=piece_ticks(part.panel.length_mm),
            width=piece_ticks(part.panel.width_mm),
            quantity=part.quantity,
            turn=turn,
        )
        for part in group.parts
    )
    stocks = tuple(
        Stock(
            id=sheet.key,
            length=sheet_ticks(sheet.length_mm),
            width=sheet_ticks(sheet.width_mm),
            price=sheet.price,
            on_hand=None
            if sheet.on_hand is None
            else sheet.on_hand - used[group.material.key, sheet.key],
        )
        for sheet in group.material.stock
    )
    return Instance(pieces=pieces, stocks=stocks, rules=rules)
