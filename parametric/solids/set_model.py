"""The solids of one set in one hand, and the panels read back from them."""

from __future__ import annotations

from dataclasses import dataclass, replace

import cadquery as cq

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
from parametric.solids.hidden_lines import Drawn
from parametric.solids.kernel_pose import location
from parametric.solids.read_loops import snap
from parametric.solids.shape_solids import identity, shape_solids

_BAND = " band "


@dataclass(frozen=True, slots=True, kw_only=True)
class SetModel:
    """All solids in the room frame, by name, with what was read from the boards and cleats.

    The solids are as they end up in the room, boards milled for their bands; `identities` tell each
    and its place from all others. What was read from the boards is as they are cut, before that.
    """

    room_set: RoomSet
    machining: Machining
    boards: dict[str, cq.Solid]
    bands: dict[str, tuple[cq.Solid, ...]]
    members: dict[str, cq.Solid]
    identities: dict[str, str]
    read_boards: tuple[ReadBoard, ...]
    read_cleats: tuple[ReadCleat, ...]

    @property
    def installed(self) -> tuple[tuple[str, cq.Solid], ...]:
        """Every solid with a name of its own: what model files and pictures show."""
        numbered = [
            (f"{name}{_BAND}{index}", solid)
            for name, solids in self.bands.items()
            for index, solid in enumerate(solids, start=1)
        ]
        return (*self.boards.items(), *numbered, *self.members.items())

    @property
    def drawn(self) -> dict[str, Drawn]:
        """Every solid of `installed` as pictures take it."""
        return {
            name: Drawn(solid, f"{self.identities[part]}{band}{index}")
            for name, solid in self.installed
            for part, band, index in [name.partition(_BAND)]
        }


def model_set(room_set: RoomSet, routing: Routing) -> SetModel:
    """Return the solids of the set and the panels read from them.

    Raises:
        KernelFailure: a part cannot be built.
        NotFlat: a board cannot be read back, which is a bug.
    """
    assembly = room_set.assembly
    worked = machining(assembly, routing)
    identities: dict[str, str] = {}
    boards: dict[str, cq.Solid] = {}
    bands: dict[str, tuple[cq.Solid, ...]] = {}
    members: dict[str, cq.Solid] = {}
    read_boards, read_cleats = [], []
    for part in (*assembly.boards, *assembly.members):
        placed = placed_shape(part, worked.of(part.name))
        made = shape_solids(part.name, placed.shape, routing)
        identities[part.name] = f"{identity(placed.shape, routing)} {placed.pose!r}"
        place = location(placed.pose)
        solid = made.solid.moved(place)
        read = made.laid and _as_placed(made.laid, placed.pose, part)
        if isinstance(part, Board):
            boards[part.name] = solid
            bands[part.name] = tuple(band.moved(place) for band in made.bands)
            if read is not None:
                read_boards.append(ReadBoard(board=part, laid=read, volume_mm3=made.volume_mm3))
            continue
        members[part.name] = solid
        if isinstance(part, Cleat) and read is not None:
            read_cleats.append(ReadCleat(cleat=part, laid=read, volume_mm3=made.volume_mm3))
    return SetModel(
        room_set=room_set,
        machining=worked,
        boards=boards,
        bands=bands,
        members=members,
        identities=identities,
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
