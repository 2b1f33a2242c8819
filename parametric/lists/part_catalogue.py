"""Merging the boards of all sets into the cut list's parts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import partial
from math import fsum

from parametric.geometry.hand import Hand
from parametric.geometry.pose import Pose
from parametric.geometry.space import SAME_MM, Direction, dot
from parametric.lists.cut_list import EdgeBanding, Part, PartUse, part_hand
from parametric.shapes.board import Board, Show
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.panel import Edge, Face, FlatPanel
from parametric.shapes.same_panel import Freedom, orientations, same_panel
from parametric.stock.materials import EdgeBand, GoodFaces, Grain, SheetMaterial

Banding = Mapping[Edge, EdgeBand]

MIRRORED_EDGES = {
    Edge.X_LOW: Edge.X_LOW,
    Edge.X_HIGH: Edge.X_HIGH,
    Edge.Y_LOW: Edge.Y_HIGH,
    Edge.Y_HIGH: Edge.Y_LOW,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadBoard:
    """A board of one set, as it was read back from its solid with its front looking up."""

    board: Board
    laid: LaidPanel
    volume_mm3: float


@dataclass(slots=True)
class _Line:
    """A part while it is being gathered."""

    board: Board
    laid: LaidPanel
    banding: Banding
    volume_mm3: float
    units: list[str] = field(default_factory=list)
    descriptions: list[str] = field(default_factory=list)
    hands: set[Hand] = field(default_factory=set)
    quantity: int = 0

    def named(self, board: Board) -> None:
        """Take in what a board is called, and the unit it belongs to."""
        for names, name in ((self.units, board.unit), (self.descriptions, board.description)):
            if name not in names:
                names.append(name)


class PartCatalogue:
    """Collects the boards of one set after another and gives each the part it is.

    `pre_mill_mm` is what the edge bander mills off a banded edge.
    """

    def __init__(self, pre_mill_mm: float) -> None:
        self._pre_mill_mm = pre_mill_mm
        self._lines: list[_Line] = []
        self._uses: list[PartUse] = []

    def add_set(self, set_name: str, hand: Hand, boards: tuple[ReadBoard, ...], rooms: int) -> None:
        """Add the boards of a set that `rooms` rooms have."""
        for read in boards:
            index, laid = self._find(read)
            line = self._lines[index]
            line.quantity += rooms
            line.hands.add(hand)
            line.named(read.board)
            self._uses.append(
                PartUse(
                    set_name=set_name,
                    hand=hand,
                    board=read.board.name,
                    number=part_number(index),
                    origin=laid.pose.origin,
                    x_axis=laid.pose.x_axis,
                    z_axis=laid.pose.z_axis,
                )
            )

    def add_drawn(self, read: ReadBoard, quantity: int) -> str:
        """Add a panel that belongs to no set, so that it serves as it is; return its number."""
        index, _ = self._find(read)
        line = self._lines[index]
        line.quantity += quantity
        line.hands.update(Hand)
        line.named(read.board)
        return part_number(index)

    def parts(self) -> tuple[Part, ...]:
        """Return the cut list's parts in the order of their numbers."""
        return tuple(self._part(index, line) for index, line in enumerate(self._lines))

    def uses(self) -> tuple[PartUse, ...]:
        """Return where each part stands in each set, in the order the boards were added."""
        return tuple(self._uses)

    def _find(self, read: ReadBoard) -> tuple[int, LaidPanel]:
        """Return the index of the board's part, and the board laid as the part lies."""
        laid = laid_for_machining(read.laid, read.board.material)
        for index, line in enumerate(self._lines):
            if line.board.material != read.board.material:
                continue
            for turned in orientations(laid, freedom(line.board.material)):
                if is_same_part(line, read.board, turned):
                    return index, turned
        self._lines.append(_Line(read.board, laid, banding(read.board, laid.pose), read.volume_mm3))
        return len(self._lines) - 1, laid

    def _part(self, index: int, line: _Line) -> Part:
        panel = line.laid.panel
        length = panel.length_mm + self._added_mm(line, (Edge.X_LOW, Edge.X_HIGH))
        width = panel.width_mm + self._added_mm(line, (Edge.Y_LOW, Edge.Y_HIGH))
        return Part(
            number=part_number(index),
            description=", ".join(line.descriptions),
            units=tuple(line.units),
            hand=part_hand(line.hands, partial(is_own_mirror_image, line)),
            material=line.board.material,
            panel=panel,
            finished_length_mm=length,
            finished_width_mm=width,
            banding=tuple(
                EdgeBanding(edge=edge, band=line.banding[edge])
                for edge in Edge
                if edge in line.banding
            ),
            front=front_face(line.board, line.laid.pose),
            show_faces=show_faces(line.board, line.laid.pose),
            quantity=line.quantity,
            mass_kg=mass_kg(line, self._pre_mill_mm),
        )

    def _added_mm(self, line: _Line, edges: tuple[Edge, Edge]) -> float:
        """Return what banding adds to the cut size over two opposite edges."""
        return fsum(
            line.banding[edge].thickness_mm - self._pre_mill_mm
            for edge in edges
            if edge in line.banding
        )


def is_same_part(line: _Line, board: Board, laid: LaidPanel) -> bool:
    """Return whether a board of the line's material, as it lies, is the line's part: machining,
    bands, and the good face where there is one.
    """
    one_good = board.material.good_faces is GoodFaces.ONE
    return (
        same_panel(line.laid.panel, laid.panel)
        and line.banding == banding(board, laid.pose)
        and (not one_good or front_face(line.board, line.laid.pose) is front_face(board, laid.pose))
    )


def part_number(index: int) -> str:
    """Return the number of the part at `index`, from P001."""
    return f"P{index + 1:03d}"


def freedom(material: SheetMaterial) -> Freedom:
    """Return how parts of the material may be turned and stay the same part."""
    found = Freedom.HALF_TURNS
    if material.good_faces is not GoodFaces.ONE:
        found |= Freedom.TURNING_OVER
    if material.grain is Grain.NONE:
        found |= Freedom.QUARTER_TURNS
    return found


def laid_for_machining(laid: LaidPanel, material: SheetMaterial) -> LaidPanel:
    """Return the panel, given front up, laid as it is machined first.

    The face with blind features looks up. With features on both, or on none, a material with one
    good face lies good face down, so that all such parts share sheets; another lies with the face
    of more features up. Without grain, the longer side is the length.
    """
    worked = laid.panel.faces_worked()
    if worked == {Face.UP}:
        over = False
    elif worked == {Face.DOWN} or material.good_faces is GoodFaces.ONE:
        over = True
    else:
        over = feature_count(laid.panel, Face.DOWN) > feature_count(laid.panel, Face.UP)
    if over:
        laid = laid.turned_over()
    if material.grain is Grain.NONE and laid.panel.width_mm > laid.panel.length_mm + SAME_MM:
        laid = laid.turned_quarter()
    return laid


def feature_count(panel: FlatPanel, face: Face) -> int:
    """Return how many blind features the face carries; a pocket outweighs any number of bores."""
    pockets = sum(pocket.face is face for pocket in panel.pockets)
    bores = sum(bore.face is face for bore in panel.bores if bore.depth_mm is not None)
    return pockets * 1000 + bores


def banding(board: Board, pose: Pose) -> Banding:
    """Return the board's bands by edge of the panel that lies at `pose`."""
    return {edge_at(band.edge, pose): band.band for band in board.bands}


def edge_at(direction: Direction, pose: Pose) -> Edge:
    """Return which edge of a panel lying at `pose` faces `direction`."""
    along = dot(direction.vector, pose.x_axis)
    if abs(along) > 0.5:
        return Edge.X_HIGH if along > 0 else Edge.X_LOW
    return Edge.Y_HIGH if dot(direction.vector, pose.y_axis) > 0 else Edge.Y_LOW


def front_face(board: Board, pose: Pose) -> Face:
    """Return the face of the laid panel that is the board's front."""
    return Face.UP if dot(board.facing.vector, pose.z_axis) > 0 else Face.DOWN


def show_faces(board: Board, pose: Pose) -> tuple[Face, ...]:
    """Return the faces of the laid panel that are seen once it is installed."""
    return {
        Show.NONE: (),
        Show.FRONT: (front_face(board, pose),),
        Show.BOTH: (Face.UP, Face.DOWN),
    }[board.show]


def is_own_mirror_image(line: _Line) -> bool:
    """Return whether a permitted turn lays the part, bands and all, on its mirror image."""
    mirror = line.laid.panel.mirror_image()
    mirrored = {MIRRORED_EDGES[edge]: band for edge, band in line.banding.items()}
    return any(
        same_panel(mirror, turned.panel) and mirrored == banding(line.board, turned.pose)
        for turned in orientations(line.laid, freedom(line.board.material))
    )


def edge_length_mm(panel: FlatPanel, edge: Edge) -> float:
    """Return the length of an edge of the bounding rectangle."""
    return panel.width_mm if edge in (Edge.X_LOW, Edge.X_HIGH) else panel.length_mm


def mass_kg(line: _Line, pre_mill_mm: float) -> float:
    """Return the mass of the finished part: without what is milled off, with its bands."""
    panel = line.laid.panel
    density = line.board.material.density_kg_m3
    mass = line.volume_mm3 * 1e-9 * density
    for edge, band in line.banding.items():
        face_mm2 = edge_length_mm(panel, edge) * panel.thickness_mm
        mass += face_mm2 * 1e-9 * (band.thickness_mm * band.density_kg_m3 - pre_mill_mm * density)
    return mass
