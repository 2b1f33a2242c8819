"""Flatten: reading a panel from a solid's faces, loops and depths.

Only the solid is read, wherever it lies and whoever made it. It is a flat panel when every face is
level (square to one normal), upright, or the wall of a round bore into an edge, and when the panel
that was read, extruded again, has the solid's volume and centre of mass.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import partial

import cadquery as cq

from parametric.geometry.outline import Outline, PlaneMotion
from parametric.geometry.pose import Pose, reverse
from parametric.geometry.space import Point, dot
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.panel import Bore, EdgeBore, Face, FlatPanel, Pocket
from parametric.solids.kernel_errors import kernel_operation
from parametric.solids.panel_solid import panel_solid
from parametric.solids.read_faces import (
    CrossCylinder,
    LevelFace,
    SortedFaces,
    panel_normal,
    sort_faces,
)
from parametric.solids.read_loops import Circle, NotFlat, PlanePoint, read_loop, snap

NUDGE_MM = 1e-3  # how far inside or outside a surface a point is tested
SAME_VOLUME_MM3 = 0.05
SAME_PLACE_MM = 1e-3


@dataclass(frozen=True, slots=True)
class _View:
    """A first frame of the panel: any origin in its plane, heights from face DOWN."""

    name: str
    solid: cq.Solid
    pose: Pose

    def to_plane(self, point: cq.Vector) -> PlanePoint:
        return plane_point(self.pose, point)

    def height(self, point: cq.Vector) -> float:
        return dot(less(point, self.pose.origin), self.pose.z_axis)

    def has_material(self, x: float, y: float, z: float) -> bool:
        point = self.pose.to_room(Point(x, y, z))
        return bool(self.solid.isInside(cq.Vector(*point), 1e-6))


def less(point: cq.Vector, origin: Point) -> Point:
    """Return the vector from `origin` to `point`."""
    return Point(*(a - b for a, b in zip(point.toTuple(), origin, strict=True)))


def plane_point(pose: Pose, point: cq.Vector) -> PlanePoint:
    """Return the point's coordinates in the plane of the pose's x and y axes."""
    away = less(point, pose.origin)
    return dot(away, pose.x_axis), dot(away, pose.y_axis)


def flatten(
    name: str, solid: cq.Solid, *, front: Point | None = None, length: Point | None = None
) -> LaidPanel:
    """Return the panel that the solid is, and where its frame lies in the solid's coordinates.

    `front` is the unit normal that shall look up and `length` the unit vector of the panel's
    length, where the caller knows them (a square bar has no thickness of its own, and grain cannot
    be seen in a solid). Otherwise the largest faces give the plane, the face with more blind
    features looks up, and the longer side of the least bounding rectangle is the length.

    Raises:
        NotFlat: the solid is not a flat panel; the reason names the face.
    """
    with kernel_operation(name, "reading faces"):
        try:
            return _flatten(name, solid, front, length)
        except NotFlat as error:
            reason = error
    raise reason


def _flatten(name: str, solid: cq.Solid, front: Point | None, length: Point | None) -> LaidPanel:
    normal = panel_normal(name, solid) if front is None else front
    faces = sort_faces(name, solid, normal)
    if front is None and len(ceilings_of(faces)) > len(floors_of(faces)):
        normal = reverse(normal)
        faces = sort_faces(name, solid, normal)
    origin = Point(*(value * faces.base_mm for value in normal))
    x_axis = length or length_direction(name, faces, normal)
    view = _View(name, solid, Pose(origin, x_axis, normal))
    read = read_panel(view, faces)
    laid = at_origin(read, view.pose)
    if length is None and laid.panel.width_mm > laid.panel.length_mm + SAME_PLACE_MM:
        laid = laid.turned_quarter()
    check_rebuilt(name, solid, laid)
    return laid


def length_direction(name: str, faces: SortedFaces, normal: Point) -> Point:
    """Return the direction of the straight edge along which the bounding rectangle is least."""
    outer = max((level.face for level in faces.up), key=lambda face: face.Area()).outerWire()
    directions = [
        Point(*edge.tangentAt(0.5).toTuple()) for edge in outer if edge.geomType() == "LINE"
    ]
    if not directions:
        first = next(iter(outer)).tangentAt(0.0)
        return Point(*first.toTuple())

    def covered(direction: Point) -> float:
        pose = Pose(Point(0.0, 0.0, 0.0), direction, normal)
        loop = read_loop(name, outer, partial(plane_point, pose))
        if isinstance(loop, Circle):
            return loop.diameter_mm**2
        x0, y0, x1, y1 = loop.bounds
        return (x1 - x0) * (y1 - y0)

    return min(directions, key=lambda direction: (round(covered(direction), 3), direction))


def read_panel(view: _View, faces: SortedFaces) -> FlatPanel:
    """Return the panel in the view's frame, its bounding rectangle anywhere."""
    thickness = faces.thickness_mm
    floors, ceilings = floors_of(faces), ceilings_of(faces)
    whole = silhouette(view, faces, floors, ceilings)
    outline = read_loop(view.name, whole.outerWire(), view.to_plane)
    if isinstance(outline, Circle):
        outline = outline.outline()
    openings, bores = [], []
    for wire in whole.innerWires():
        loop = read_loop(view.name, wire, view.to_plane)
        if isinstance(loop, Circle):
            bores.append(round_hole(loop, None, Face.UP))
        else:
            openings.append(loop)
    pockets = []
    for levels, face in ((floors, Face.UP), (ceilings, Face.DOWN)):
        for level in levels:
            from_face = thickness - level.height_mm if face is Face.UP else level.height_mm
            feature = blind_feature(view, level, face, snap(from_face))
            if isinstance(feature, Bore):
                bores.append(feature)
            else:
                pockets.append(feature)
    return FlatPanel(
        length_mm=0.0,
        width_mm=0.0,
        thickness_mm=snap(thickness),
        outline=outline,
        openings=tuple(openings),
        pockets=tuple(pockets),
        bores=tuple(bores),
        edge_bores=tuple(edge_bore(view, cylinder) for cylinder in faces.cross),
    )


def floors_of(faces: SortedFaces) -> list[LevelFace]:
    """Return the faces that look up from below the top: floors of features of face UP."""
    return [level for level in faces.up if level.height_mm < faces.thickness_mm - NUDGE_MM]


def ceilings_of(faces: SortedFaces) -> list[LevelFace]:
    """Return the faces that look down from above the bottom: features of face DOWN."""
    return [level for level in faces.down if level.height_mm > NUDGE_MM]


def silhouette(
    view: _View, faces: SortedFaces, floors: list[LevelFace], ceilings: list[LevelFace]
) -> cq.Face:
    """Return one face with the panel's outline and what goes right through it.

    Every line along the normal leaves the panel through a face that looks up, so all of these,
    moved into one plane, cover it; where one side has no blind features its face does alone.
    """
    if not ceilings and len(faces.down) == 1:
        return faces.down[0].face
    if not floors and len(faces.up) == 1:
        return faces.up[0].face
    normal = cq.Vector(*view.pose.z_axis)
    moved = [level.face.translate(normal * -level.height_mm) for level in faces.up]
    fused = moved[0].fuse(*moved[1:]).clean().Faces() if len(moved) > 1 else moved
    if len(fused) != 1:
        raise NotFlat(view.name, f"its faces make {len(fused)} separate outlines")
    return fused[0]


def blind_feature(view: _View, level: LevelFace, face: Face, depth_mm: float) -> Bore | Pocket:
    """Return the pocket or blind bore whose floor the level face is."""
    outer = read_loop(view.name, level.face.outerWire(), view.to_plane)
    islands = []
    open_side = NUDGE_MM if face is Face.UP else -NUDGE_MM
    for wire in level.face.innerWires():
        loop = read_loop(view.name, wire, view.to_plane)
        if isinstance(loop, Circle):
            loop = loop.outline()
        x, y = inside_point(loop)
        # Material above the floor makes an island; a hole in the floor is a feature of its own.
        if view.has_material(x, y, level.height_mm + open_side):
            islands.append(loop)
    if isinstance(outer, Circle) and not islands:
        return round_hole(outer, depth_mm, face)
    if isinstance(outer, Circle):
        outer = outer.outline()
    return Pocket(outline=outer, islands=tuple(islands), depth_mm=depth_mm, face=face)


def inside_point(loop: Outline) -> PlanePoint:
    """Return a point just inside the loop, next to the middle of its first segment."""
    a, b = next(loop.segments())
    chord_x, chord_y = b.x - a.x, b.y - a.y
    chord = math.hypot(chord_x, chord_y)
    x = (a.x + b.x) / 2 + a.bulge * chord_y / 2
    y = (a.y + b.y) / 2 - a.bulge * chord_x / 2
    return x - chord_y / chord * NUDGE_MM, y + chord_x / chord * NUDGE_MM


def round_hole(circle: Circle, depth_mm: float | None, face: Face) -> Bore:
    """Return the bore of a circle."""
    return Bore(
        x=circle.x, y=circle.y, diameter_mm=snap(circle.diameter_mm), depth_mm=depth_mm, face=face
    )


def edge_bore(view: _View, cylinder: CrossCylinder) -> EdgeBore:
    """Return the bore into an edge that a cross cylinder is the wall of.

    Raises:
        NotFlat: it is not a whole cylinder, or it has no mouth.
    """
    axis = cylinder.axis
    along = [dot(less(v.Center(), cylinder.axis_point), axis) for v in cylinder.face.Vertices()]
    low, high = min(along), max(along)
    full = 2 * math.pi * cylinder.radius_mm * (high - low)
    where = ", ".join(f"{value:.2f}" for value in cylinder.face.Center().toTuple())
    if abs(cylinder.face.Area() - full) > 1e-3 * full:
        raise NotFlat(view.name, f"the round face at ({where}) is not a whole bore")

    def on_axis(distance: float) -> cq.Vector:
        pairs = zip(cylinder.axis_point, axis, strict=True)
        return cq.Vector(*(start + step * distance for start, step in pairs))

    for mouth, direction in ((low, axis), (high, reverse(axis))):
        outward = -NUDGE_MM if mouth == low else NUDGE_MM
        if view.solid.isInside(on_axis(mouth + outward), 1e-6):
            continue
        x, y = view.to_plane(on_axis(mouth))
        return EdgeBore(
            x=x,
            y=y,
            z_mm=snap(view.height(on_axis(mouth))),
            direction_x=snap(dot(direction, view.pose.x_axis)),
            direction_y=snap(dot(direction, view.pose.y_axis)),
            diameter_mm=snap(2 * cylinder.radius_mm),
            depth_mm=snap(high - low),
        )
    raise NotFlat(view.name, f"the bore at ({where}) has no mouth")


def at_origin(panel: FlatPanel, pose: Pose) -> LaidPanel:
    """Return the panel shifted so that its bounding rectangle starts at the origin, snapped."""
    x0, y0, x1, y1 = panel.outline.bounds
    shifted = panel.moved(PlaneMotion(0, False, -x0, -y0), snap(x1 - x0), snap(y1 - y0))
    return LaidPanel(
        shifted.snapped(snap), Pose(pose.to_room(Point(x0, y0, 0.0)), pose.x_axis, pose.z_axis)
    )


def check_rebuilt(name: str, solid: cq.Solid, laid: LaidPanel) -> None:
    """Compare the solid with what was read from it.

    Raises:
        NotFlat: volume or centre of mass differ.
    """
    rebuilt = panel_solid(name, laid.panel)
    volume = rebuilt.Volume() - solid.Volume()
    if abs(volume) > SAME_VOLUME_MM3:
        raise NotFlat(name, f"what was read differs from the solid by {volume:.2f} mm3")
    centre = laid.pose.to_room(Point(*rebuilt.Center().toTuple()))
    if math.dist(centre, solid.Center().toTuple()) > SAME_PLACE_MM:
        raise NotFlat(name, "what was read has its mass elsewhere than the solid")
