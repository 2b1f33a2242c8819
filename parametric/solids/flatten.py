"""Flatten: reading a panel from a solid's faces, loops and depths.

Only the solid is read, wherever it lies and whoever made it. It is a flat panel when every face is
level (square to one normal), upright, or the wall of a round bore into an edge, and when the panel
that was read, extruded again, has the solid's volume and centre of mass. The conical tips of blind
bores are left to the drill: such a bore is as deep as its full diameter goes.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

import cadquery as cq

from parametric.geometry.outline import Outline, PlaneMotion, arc_centre
from parametric.geometry.pose import Pose, reverse
from parametric.geometry.space import Point, dot
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.panel import Bore, EdgeBore, Face, FlatPanel, Pocket
from parametric.solids.check_read import SAME_PLACE_MM, Allowed, check_rebuilt
from parametric.solids.kernel_errors import NotFlat, kernel_operation
from parametric.solids.kernel_noise import snap
from parametric.solids.read_bores import NUDGE_MM, CrossBore, cross_bores, mouth
from parametric.solids.read_faces import (
    LevelFace,
    SortedFaces,
    panel_normal,
    sort_faces,
)
from parametric.solids.read_loops import Circle, PlanePoint, read_loop
from parametric.solids.surfaces import apart, place

_LOOKS = 16  # how often the way from a floor to its face is looked at


@dataclass(frozen=True, slots=True)
class _View:
    """A first frame of the panel: any origin in its plane, heights from face DOWN."""

    name: str
    solid: cq.Solid
    pose: Pose
    drawn_elsewhere: bool

    def to_plane(self, point: cq.Vector) -> PlanePoint:
        return plane_point(self.pose, point)

    def height(self, point: cq.Vector) -> float:
        return dot(apart(point, self.pose.origin), self.pose.z_axis)

    def has_material(self, x: float, y: float, z: float) -> bool:
        return self.inside(cq.Vector(*self.pose.to_room(Point(x, y, z))))

    def inside(self, point: cq.Vector) -> bool:
        return bool(self.solid.isInside(point, 1e-6))


@dataclass(frozen=True, slots=True)
class Reading:
    """The panel that a solid is, where it lies, and how many of its bores end in a drill's tip."""

    laid: LaidPanel
    tips: int


def plane_point(pose: Pose, point: cq.Vector) -> PlanePoint:
    """Return the point's coordinates in the plane of the pose's x and y axes."""
    away = apart(point, pose.origin)
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
    return _told(name, lambda: _flatten(name, solid, front, length, 0.0)).laid


def read_drawn(name: str, solid: cq.Solid, normal: Point, rough_mm: float) -> Reading:
    """Return the panel that a solid drawn elsewhere is, its faces square to `normal`, either way.

    Each face of it may lie off by `rough_mm`. The face with more blind features looks up.

    Raises:
        NotFlat: the solid is not a flat panel; the reason names the face.
    """

    def read() -> Reading:
        faces = sort_faces(name, solid, normal)
        more_below = len(ceilings_of(faces)) > len(floors_of(faces))
        return _flatten(name, solid, reverse(normal) if more_below else normal, None, rough_mm)

    return _told(name, read)


def _told(name: str, read: Callable[[], Reading]) -> Reading:
    """Return what is read; the kernel's errors become ours.

    Raises:
        NotFlat: the solid is not a flat panel.
        KernelFailure: the kernel failed.
    """
    with kernel_operation(name, "reading faces"):
        try:
            return read()
        except NotFlat as error:
            reason = error
    raise reason


def _flatten(
    name: str, solid: cq.Solid, front: Point | None, length: Point | None, rough_mm: float
) -> Reading:
    normal = panel_normal(name, solid) if front is None else front
    faces = sort_faces(name, solid, normal)
    if front is None and len(ceilings_of(faces)) > len(floors_of(faces)):
        normal = reverse(normal)
        faces = sort_faces(name, solid, normal)
    origin = Point(*(value * faces.base_mm for value in normal))
    x_axis = length or length_direction(name, faces, normal)
    view = _View(name, solid, Pose(origin, x_axis, normal), drawn_elsewhere=rough_mm > 0)
    laid = at_origin(read_panel(view, faces), view.pose)
    if length is None and laid.panel.width_mm > laid.panel.length_mm + SAME_PLACE_MM:
        laid = laid.turned_quarter()
    volume_mm3 = faces.leaning_mm3 + (rough_mm * solid.Area() if rough_mm else 0.0)
    try:
        check_rebuilt(name, solid, laid, Allowed(tips=faces.tips, volume_mm3=volume_mm3))
    except NotFlat as error:
        raise NotFlat(name, f"{hidden_face(view, faces)}{error.reason}") from None
    return Reading(laid, len(faces.tips))


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
        bores=tuple(each_once(bores)),
        edge_bores=tuple(
            edge_bore(view, bore) for bore in cross_bores(view.name, faces.cross, view.inside)
        ),
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
    if isinstance(outer, Outline) and view.drawn_elsewhere and not islands:
        outer = whole_circle(view, outer, level.height_mm + open_side) or outer
    if isinstance(outer, Circle) and not islands:
        return round_hole(outer, depth_mm, face)
    if isinstance(outer, Circle):
        outer = outer.outline()
    return Pocket(outline=outer, islands=tuple(islands), depth_mm=depth_mm, face=face)


def whole_circle(view: _View, outline: Outline, height_mm: float) -> Circle | None:
    """Return the circle of which the outline is what another bore or the panel's edge has left, if
    a bit may go all round it: what is not floor must be free at `height_mm` already.
    """
    for a, b in outline.segments():
        if a.bulge <= 0:
            continue
        x, y, radius = arc_centre(a, b)
        if any(math.dist((v.x, v.y), (x, y)) > radius + SAME_PLACE_MM for v in outline.vertices):
            continue
        spots = (
            (x + share * radius * math.cos(turn), y + share * radius * math.sin(turn))
            for share in (0.1, 0.5, 1 - NUDGE_MM / radius)
            for turn in (math.tau * step / _LOOKS for step in range(_LOOKS))
        )
        if not any(view.has_material(*spot, height_mm) for spot in spots):
            return Circle(x, y, 2 * radius)
    return None


def each_once(bores: list[Bore]) -> list[Bore]:
    """Return the bores without those that another one takes in: pieces of one bottom, and the tip
    in the middle of a flat one.
    """
    kept: list[Bore] = []
    for bore in sorted(bores, key=lambda each: -each.diameter_mm):
        if bore.depth_mm is None or not any(
            (other.depth_mm, other.face) == (bore.depth_mm, bore.face)
            and math.dist((other.x, other.y), (bore.x, bore.y)) < SAME_PLACE_MM
            for other in kept
        ):
            kept.append(bore)
    return [bore for bore in bores if any(bore is each for each in kept)]


def hidden_face(view: _View, faces: SortedFaces) -> str:
    """Return which floor has material over it again, in words; nothing if none has."""
    for levels, end_mm in ((floors_of(faces), faces.thickness_mm), (ceilings_of(faces), 0.0)):
        for level in levels:
            loop = read_loop(view.name, level.face.outerWire(), view.to_plane)
            x, y = inside_point(loop.outline() if isinstance(loop, Circle) else loop)
            way_mm = end_mm - level.height_mm
            shares = ((step + 0.5) / _LOOKS for step in range(_LOOKS))
            if any(view.has_material(x, y, level.height_mm + share * way_mm) for share in shares):
                where = place(level.face)
                return f"no bit gets at the face at {where} for what is over it; "
    return ""


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


def edge_bore(view: _View, bore: CrossBore) -> EdgeBore:
    """Return a bore into an edge in the view's frame.

    Raises:
        NotFlat: it has no mouth.
    """
    entry, way = mouth(view.name, bore, view.solid, view.inside)
    x, y = view.to_plane(entry)
    return EdgeBore(
        x=x,
        y=y,
        z_mm=snap(view.height(entry)),
        direction_x=snap(dot(way, view.pose.x_axis)),
        direction_y=snap(dot(way, view.pose.y_axis)),
        diameter_mm=snap(2 * bore.first.radius_mm),
        depth_mm=snap(bore.high - bore.low),
    )


def at_origin(panel: FlatPanel, pose: Pose) -> LaidPanel:
    """Return the panel shifted so that its bounding rectangle starts at the origin, snapped."""
    x0, y0, x1, y1 = panel.outline.bounds
    shifted = panel.moved(PlaneMotion(0, False, -x0, -y0), snap(x1 - x0), snap(y1 - y0))
    return LaidPanel(
        shifted.snapped(snap), Pose(pose.to_room(Point(x0, y0, 0.0)), pose.x_axis, pose.z_axis)
    )
