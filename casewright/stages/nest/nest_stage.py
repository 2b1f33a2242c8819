"""From the cut list to nests: the one place where parts become pieces on sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import floor
from types import MappingProxyType

from casewright.job import Machine
from export.tables.yield_table import MaterialNest
from nesting.answer.solution import Solution
from nesting.question.instance import Instance, Piece, Stock, Turn
from nesting.question.sheet_rules import Rim, SheetRules, Trim
from nesting.question.ticks import Grid, gap_ticks, piece_ticks, sheet_ticks
from parametric.lists.cut_list import Part
from parametric.lists.face_up import FaceUp, face_up
from parametric.shapes.board import Board
from parametric.shapes.panel import FlatPanel
from parametric.stock.materials import Grain, SheetMaterial

NONE_USED: Mapping[tuple[str, str], int] = MappingProxyType({})
"""Sheets that are taken, by material and stock: none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NestGroup:
    """The parts that share sheets: one material, its good face lying the same way."""

    material: SheetMaterial
    face_up: FaceUp
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Nest:
    """A group, the question it poses, and how its parts lie on sheets.

    `before` is the answer that a further search started from, where there was one.
    """

    group: NestGroup
    instance: Instance
    solution: Solution
    before: Solution | None = None


def material_nests(nests: Iterable[Nest]) -> tuple[MaterialNest, ...]:
    """Return nests as the tables of yield and offcuts take them."""
    return tuple(
        MaterialNest(
            material=nest.group.material,
            face_up=nest.group.face_up,
            instance=nest.instance,
            solution=nest.solution,
        )
        for nest in nests
    )


def nest_groups(parts: Iterable[Part]) -> tuple[NestGroup, ...]:
    """Return the groups in the order in which their first parts are numbered."""
    groups: dict[tuple[str, FaceUp], list[Part]] = {}
    for part in parts:
        groups.setdefault((part.material.key, face_up(part)), []).append(part)
    return tuple(
        NestGroup(material=members[0].material, face_up=face, parts=tuple(members))
        for (_, face), members in groups.items()
    )


def sheet_rules(machine: Machine) -> SheetRules:
    """Return what the router asks of every sheet."""
    left, right, bottom, top = map(gap_ticks, machine.edges_mm)
    small = machine.small_parts
    rim = None
    if small.rim_side_mm is not None and small.rim_mm is not None:
        rim = Rim(longest_side=gap_ticks(small.rim_side_mm), distance=gap_ticks(small.rim_mm))
    return SheetRules(
        trim=Trim(left=left, right=right, bottom=bottom, top=top),
        gap=gap_ticks(machine.gap_mm),
        rim=rim,
    )


def nest_instance(
    group: NestGroup, rules: SheetRules, used: Mapping[tuple[str, str], int] = NONE_USED
) -> Instance:
    """Return the group as pieces and stock, less the sheets that others use."""
    pieces = tuple(
        Piece(
            id=part.number,
            length=piece_ticks(part.panel.length_mm),
            width=piece_ticks(part.panel.width_mm),
            quantity=part.quantity,
            turn=turn_of(part.material),  # a panel may be free of its material's grain
            cut_area=net_area(part.panel),
            # A part of several units has no home to be kept in.
            group=part.units[0] if len(part.units) == 1 else "",
        )
        for part in group.parts
    )
    return Instance(pieces=pieces, stocks=stocks_of(group.material, used), rules=rules)


def board_instance(
    material: SheetMaterial,
    boards: Iterable[tuple[Board, int]],
    pre_mill_mm: float,
    rules: SheetRules,
) -> Instance:
    """Return boards of one material, each so many times, as pieces of their cut size and stock.

    What a board is before anything is machined says neither which part it is nor which way up it
    lies: this is for counting what all of them take at least.
    """
    sizes: Counter[tuple[int, int]] = Counter()
    for board, times in boards:
        box = board.cut_box(pre_mill_mm)
        along, across = box.size(board.grain), box.size(board.width_axis)
        sizes[piece_ticks(along), piece_ticks(across)] += times
    pieces = tuple(
        Piece(
            id=f"{length} x {width}",
            length=length,
            width=width,
            quantity=count,
            turn=turn_of(material),
        )
        for (length, width), count in sizes.items()
    )
    return Instance(pieces=pieces, stocks=stocks_of(material), rules=rules)


def rounded_mm(group: NestGroup, machine: Machine) -> float:
    """Return the most by which a length of the group's nest is rounded to what a nest counts in."""
    grid, small = Grid(), machine.small_parts
    for length_mm in (*machine.edges_mm, machine.gap_mm, small.rim_side_mm, small.rim_mm):
        grid.gap(length_mm or 0.0)
    for part in group.parts:
        grid.piece(part.panel.length_mm)
        grid.piece(part.panel.width_mm)
    for sheet in group.material.stock:
        grid.sheet(sheet.length_mm)
        grid.sheet(sheet.width_mm)
    return grid.rounded_mm


def net_area(panel: FlatPanel) -> int:
    """Return the area of a part between its notches and openings, in square ticks."""
    rectangle = piece_ticks(panel.length_mm) * piece_ticks(panel.width_mm)
    return min(rectangle, floor(panel.net_area_mm2 * gap_ticks(1) ** 2))


def turn_of(material: SheetMaterial) -> Turn:
    """Return how pieces of a material may lie."""
    return Turn.QUARTER if material.grain is Grain.NONE else Turn.FIXED


def stocks_of(
    material: SheetMaterial, used: Mapping[tuple[str, str], int] = NONE_USED
) -> tuple[Stock, ...]:
    """Return the stock of a material, less the sheets that others use."""
    return tuple(
        Stock(
            id=sheet.key,
            length=sheet_ticks(sheet.length_mm),
            width=sheet_ticks(sheet.width_mm),
            price=sheet.price,
            on_hand=None
            if sheet.on_hand is None
            else sheet.on_hand - used.get((material.key, sheet.key), 0),
        )
        for sheet in material.stock
    )
