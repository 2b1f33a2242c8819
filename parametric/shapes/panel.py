"""A flat panel as it lies on the machine: outline, openings, blind features and holes.

Panel frame: x along the length (the grain), y across, the lower-left corner of the bounding
rectangle at the origin, seen with face UP towards the viewer. Features of face DOWN are stored in
the same x and y, as if seen through the panel.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from math import fsum

from parametric.geometry.outline import Outline, PlaneMotion, Vertex


class Face(StrEnum):
    """The two faces of a panel as it lies on the machine."""

    UP = "up"
    DOWN = "down"

    @property
    def other(self) -> Face:
        """The opposite face."""
        return Face.DOWN if self is Face.UP else Face.UP


class Edge(StrEnum):
    """An edge of the bounding rectangle, by its own position on the panel."""

    X_LOW = "x-low"  # short edge at x = 0
    X_HIGH = "x-high"  # short edge at x = length
    Y_LOW = "y-low"  # long edge at y = 0
    Y_HIGH = "y-high"  # long edge at y = width


@dataclass(frozen=True, slots=True, kw_only=True)
class Pocket:
    """A blind area of any outline, with the islands that stand in it."""

    outline: Outline
    islands: tuple[Outline, ...]
    depth_mm: float
    face: Face


@dataclass(frozen=True, slots=True, kw_only=True)
class Bore:
    """A round hole square to the faces. Through holes have depth None and face UP."""

    x: float
    y: float
    diameter_mm: float
    depth_mm: float | None
    face: Face


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeBore:
    """A round hole into an edge: its mouth at (x, y), `z_mm` above face DOWN, its axis level.

    (`direction_x`, `direction_y`) is the unit vector the bit travels.
    """

    x: float
    y: float
    z_mm: float
    direction_x: float
    direction_y: float
    diameter_mm: float
    depth_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatPanel:
    """Everything a router and a drill must know of one panel, millimetres."""

    length_mm: float
    width_mm: float
    thickness_mm: float
    outline: Outline
    openings: tuple[Outline, ...]
    pockets: tuple[Pocket, ...]
    bores: tuple[Bore, ...]
    edge_bores: tuple[EdgeBore, ...]

    @property
    def net_area_mm2(self) -> float:
        """The area of a face that is left between outline and openings, exact for arcs."""
        cut = fsum(abs(opening.signed_area_mm2) for opening in self.openings)
        return abs(self.outline.signed_area_mm2) - cut

    def faces_worked(self) -> frozenset[Face]:
        """Return the faces that carry blind features."""
        faces = {pocket.face for pocket in self.pockets}
        faces |= {bore.face for bore in self.bores if bore.depth_mm is not None}
        return frozenset(faces)

    def turned_half(self) -> FlatPanel:
        """Return the panel turned half round in its plane."""
        motion = PlaneMotion(2, False, self.length_mm, self.width_mm)
        return self.moved(motion, self.length_mm, self.width_mm)

    def turned_quarter(self) -> FlatPanel:
        """Return the panel turned a quarter counter-clockwise; length and width change places."""
        motion = PlaneMotion(1, False, self.width_mm, 0.0)
        return self.moved(motion, self.width_mm, self.length_mm)

    def turned_over(self) -> FlatPanel:
        """Return the panel turned over about its length: face DOWN now looks up."""
        motion = PlaneMotion(0, True, 0.0, self.width_mm)
        return self.moved(motion, self.length_mm, self.width_mm, turned_over=True)

    def mirror_image(self) -> FlatPanel:
        """Return the panel of the opposite hand: mirrored across its length, same face up."""
        motion = PlaneMotion(0, True, 0.0, self.width_mm)
        return self.moved(motion, self.length_mm, self.width_mm)

    def moved(
        self,
        motion: PlaneMotion,
        length_mm: float,
        width_mm: float,
        *,
        turned_over: bool = False,
    ) -> FlatPanel:
        """Return the panel after `motion`, with the given new length and width.

        `turned_over` exchanges the faces as well; with a mirrored motion that is a proper turn.
        """
        turn = PlaneMotion(motion.quarter_turns, motion.mirrored)

        def face(of: Face) -> Face:
            return of.other if turned_over else of

        def bore(of: Bore) -> Bore:
            x, y = motion.apply(of.x, of.y)
            return replace(of, x=x, y=y, face=of.face if of.depth_mm is None else face(of.face))

        def edge_bore(of: EdgeBore) -> EdgeBore:
            x, y = motion.apply(of.x, of.y)
            dx, dy = turn.apply(of.direction_x, of.direction_y)
            z = self.thickness_mm - of.z_mm if turned_over else of.z_mm
            return replace(of, x=x, y=y, z_mm=z, direction_x=dx, direction_y=dy)

        def pocket(of: Pocket) -> Pocket:
            islands = tuple(island.moved(motion) for island in of.islands)
            return replace(
                of, outline=of.outline.moved(motion), islands=islands, face=face(of.face)
            )

        return replace(
            self,
            length_mm=length_mm,
            width_mm=width_mm,
            outline=self.outline.moved(motion),
            openings=tuple(opening.moved(motion) for opening in self.openings),
            pockets=tuple(pocket(each) for each in self.pockets),
            bores=tuple(bore(each) for each in self.bores),
            edge_bores=tuple(edge_bore(each) for each in self.edge_bores),
        )

    def snapped(self, snap: Callable[[float], float]) -> FlatPanel:
        """Return the panel with every coordinate passed through `snap`."""

        def outline(of: Outline) -> Outline:
            return Outline(tuple(Vertex(snap(v.x), snap(v.y), v.bulge) for v in of.vertices))

        return replace(
            self,
            outline=outline(self.outline),
            openings=tuple(outline(each) for each in self.openings),
            pockets=tuple(
                replace(
                    each,
                    outline=outline(each.outline),
                    islands=tuple(outline(island) for island in each.islands),
                )
                for each in self.pockets
            ),
            bores=tuple(replace(each, x=snap(each.x), y=snap(each.y)) for each in self.bores),
            edge_bores=tuple(
                replace(each, x=snap(each.x), y=snap(each.y)) for each in self.edge_bores
            ),
        )
