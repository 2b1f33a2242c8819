"""A set in one hand with the panels read back from its solids; these are made when asked for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from parametric.geometry.pose import Pose
from parametric.joints.machining import Machining, machining
from parametric.lists.bar_catalogue import ReadCleat
from parametric.lists.part_catalogue import ReadBoard
from parametric.sets.room_set import RoomSet
from parametric.shapes.board import Board
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.members import Cleat, Member
from parametric.shapes.routing import Routing
from parametric.shapes.shape import placed_shape
from parametric.solids.kernel_noise import snap
from parametric.solids.shape_identity import identity
from parametric.solids.shape_reading import shape_reading

if TYPE_CHECKING:
    from parametric.solids.set_solids import SetSolids


@dataclass(frozen=True, kw_only=True)
class SetModel:
    """A set, what is taken out of its parts, and what was read from the solids of boards and cleats
    as they are cut, before milling for bands. `identities` tell each part's solid and its place
    from all others, `band_counts` how many solids its bands are.
    """

    room_set: RoomSet
    machining: Machining
    routing: Routing
    identities: dict[str, str]
    band_counts: dict[str, int]
    read_boards: tuple[ReadBoard, ...]
    read_cleats: tuple[ReadCleat, ...]

    @cached_property
    def solids(self) -> SetSolids:
        """All solids of the set; the kernel is loaded for them."""
        from parametric.solids.set_solids import set_solids

        parts = (*self.room_set.assembly.boards, *self.room_set.assembly.members)
        return set_solids(parts, self.machining, self.routing, self.identities)


def model_set(room_set: RoomSet, routing: Routing) -> SetModel:
    """Return the set and the panels read from its solids.

    Raises:
        KernelFailure: a part cannot be built.
        NotFlat: a board cannot be read back, which is a bug.
    """
    assembly = room_set.assembly
    worked = machining(assembly, routing)
    identities: dict[str, str] = {}
    band_counts: dict[str, int] = {}
    read_boards, read_cleats = [], []
    for part in (*assembly.boards, *assembly.members):
        placed = placed_shape(part, worked.of(part.name))
        reading = shape_reading(part.name, placed.shape, routing)
        identities[part.name] = f"{identity(placed.shape, routing)} {placed.pose!r}"
        band_counts[part.name] = reading.bands
        if reading.laid is None:
            continue
        laid = _as_placed(reading.laid, placed.pose, part)
        if isinstance(part, Board):
            read_boards.append(ReadBoard(board=part, laid=laid, volume_mm3=reading.volume_mm3))
        elif isinstance(part, Cleat):
            read_cleats.append(ReadCleat(cleat=part, laid=laid, volume_mm3=reading.volume_mm3))
    return SetModel(
        room_set=room_set,
        machining=worked,
        routing=routing,
        identities=identities,
        band_counts=band_counts,
        read_boards=tuple(read_boards),
        read_cleats=tuple(read_cleats),
    )


def _as_placed(laid: LaidPanel, pose: Pose, part: Board | Member) -> LaidPanel:
    """Return what was read from a shape where it stands, its length along the room's axis whichever
    way the shape itself was turned; a cleat's wide face looks along an axis as well.
    """
    placed = replace(laid, pose=pose.of(laid.pose))
    if isinstance(part, Cleat) and min(placed.pose.z_axis) < 0:
        placed = placed.turned_over()
    if min(placed.pose.x_axis) < 0:
        placed = placed.turned_half()
    return replace(placed, panel=placed.panel.snapped(snap))
