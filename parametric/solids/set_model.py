"""The solids of one set in one hand, and the panels read back from them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import cadquery as cq

from parametric.bar_catalogue import ReadCleat
from parametric.board import Board
from parametric.machining import Machining, machining
from parametric.members import Cleat
from parametric.part_catalogue import ReadBoard
from parametric.room_set import RoomSet
from parametric.routing import Routing
from parametric.solids.board_solid import band_solids, board_solid
from parametric.solids.flatten import flatten
from parametric.solids.member_solid import member_solid
from parametric.space import Axis, unit_vector

Solid = cq.Solid


@dataclass(frozen=True, slots=True, kw_only=True)
class SetModel:
    """All solids in the room frame, by name, with what was read from the boards and cleats.

    The solids are as they end up in the room, boards milled for their bands. What was read from the
    boards is as they are cut, before that.
    """

    room_set: RoomSet
    machining: Machining
    boards: dict[str, cq.Solid]
    bands: dict[str, tuple[cq.Solid, ...]]
    members: dict[str, cq.Solid]
    read_boards: tuple[ReadBoard, ...]
    read_cleats: tuple[ReadCleat, ...]

    @property
    def installed(self) -> tuple[tuple[str, cq.Solid], ...]:
        """Every solid with a name of its own: what model files and pictures show."""
        numbered = [
            (f"{name} band {index}", solid)
            for name, solids in self.bands.items()
            for index, solid in enumerate(solids, start=1)
        ]
        return (*self.boards.items(), *numbered, *self.members.items())


def model_set(room_set: RoomSet, routing: Routing) -> SetModel:
    """Return the solids of the set and the panels read from them.

    Raises:
        KernelFailure: a part cannot be built.
        NotFlat: a board cannot be read back, which is a bug.
    """
    assembly = room_set.assembly
    worked = machining(assembly, routing)
    members = {m.name: member_solid(m, worked.of(m.name), routing) for m in assembly.members}
    bands = {b.name: band_solids(b, worked.of(b.name), routing) for b in assembly.boards}
    cut = board_solids(assembly.boards, worked, routing)
    banded = tuple(b for b in assembly.boards if b.bands) if routing.pre_mill_mm else ()
    milled = cut | board_solids(banded, worked, replace(routing, pre_mill_mm=0.0))
    return SetModel(
        room_set=room_set,
        machining=worked,
        boards=milled,
        bands=bands,
        members=members,
        read_boards=tuple(read_board(b, cut[b.name]) for b in assembly.boards),
        read_cleats=tuple(read_cleat(c, members[c.name]) for c in assembly.cleats),
    )


def board_solids(
    boards: tuple[Board, ...], worked: Machining, routing: Routing
) -> dict[str, cq.Solid]:
    """Return the solids of the boards, at their cut size, by name."""
    return {board.name: board_solid(board, worked.of(board.name), routing) for board in boards}


def read_board(board: Board, solid: cq.Solid) -> ReadBoard:
    """Return the board as read from its solid; only grain and front come from the definition."""
    laid = flatten(board.name, solid, front=board.facing.vector, length=unit_vector(board.grain))
    return ReadBoard(board=board, laid=laid, volume_mm3=solid.Volume())


def read_cleat(cleat: Cleat, solid: cq.Solid) -> ReadCleat:
    """Return the cleat as read from its solid, lying on its wide face."""
    across = [axis for axis in Axis if axis is not cleat.along]
    thin = min(across, key=cleat.box.size)
    laid = flatten(cleat.name, solid, front=unit_vector(thin), length=unit_vector(cleat.along))
    return ReadCleat(cleat=cleat, laid=laid, volume_mm3=solid.Volume())
