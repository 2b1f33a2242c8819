"""All solids of a set in the room, each part's made once for its shape and moved to its place."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import cadquery as cq

from parametric.joints.machining import Machining
from parametric.shapes.board import Board
from parametric.shapes.members import Member
from parametric.shapes.routing import Routing
from parametric.shapes.shape import placed_shape
from parametric.solids.hidden_lines import Drawn
from parametric.solids.kernel_pose import location
from parametric.solids.shape_solids import shape_solids

_BAND = " band "


@dataclass(frozen=True, slots=True, kw_only=True)
class SetSolids:
    """All solids in the room frame, by name, as they end up there: boards milled for their bands.
    `identities` tell each and its place from all others.
    """

    boards: dict[str, cq.Solid]
    bands: dict[str, tuple[cq.Solid, ...]]
    members: dict[str, cq.Solid]
    identities: dict[str, str]

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


def set_solids(
    parts: Iterable[Board | Member],
    worked: Machining,
    routing: Routing,
    identities: dict[str, str],
) -> SetSolids:
    """Return the solids of the parts, with what is taken out of them, where they stand.

    Raises:
        KernelFailure: a part cannot be built.
        NotFlat: a board cannot be read back, which is a bug.
    """
    boards: dict[str, cq.Solid] = {}
    bands: dict[str, tuple[cq.Solid, ...]] = {}
    members: dict[str, cq.Solid] = {}
    for part in parts:
        placed = placed_shape(part, worked.of(part.name))
        made = shape_solids(part.name, placed.shape, routing)
        place = location(placed.pose)
        if isinstance(part, Board):
            boards[part.name] = made.solid.moved(place)
            bands[part.name] = tuple(band.moved(place) for band in made.bands)
        else:
            members[part.name] = made.solid.moved(place)
    return SetSolids(boards=boards, bands=bands, members=members, identities=identities)
