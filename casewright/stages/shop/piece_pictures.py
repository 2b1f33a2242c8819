"""Pictures of the pieces that the shop joins, as they lie on a bench, their parts drawn apart."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from casewright.stages.site.bought_words import short_label
from casewright.stages.site.site_pictures import by_number, driven_screws, longest, on_its_way
from export.site.content import Callout, StepPicture
from parametric.geometry.pose import cross, reverse
from parametric.geometry.space import Axis, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.delivered import Delivered, joined_from, joining
from parametric.joints.machining import Machining
from parametric.pictures.apart import in_parts, way_in
from parametric.pictures.bodies import body_of
from parametric.pictures.camera import Camera
from parametric.pictures.scene import drives
from parametric.pictures.sight import Hiders, seen_lines
from parametric.pictures.views import views
from parametric.shapes.board import Board
from parametric.steps.part_boxes import boxes_of


def piece_pictures(
    assembly: Assembly,
    worked: Machining,
    piece: Delivered,
    numbers: Mapping[str, str],
    letters: Mapping[str, str],
) -> tuple[StepPicture, ...]:
    """Return the pictures of a piece from where its screws show their heads; `numbers` are those of
    what it is joined from, by the part that each goes by, `letters` those of articles.
    """
    made_of = joined_from(assembly, piece)
    coming = in_parts(assembly, {part.name: boxes_of(part, worked) for part in piece.parts}, piece)
    poses = {name: each.pose for each in coming for name in each.names}
    bodies = {part.name: body_of(part, worked).placed(poses[part.name]) for part in piece.parts}
    driven = tuple(drives(assembly, joining(piece, made_of), poses))
    homes = [pair for each in coming if (pair := way_in(assembly, each))]
    hiders = Hiders.of(bodies.values())
    pictures = []
    box = any(len(each.parts) > 1 for each in made_of)
    for at, view in enumerate(views(driven, hiders, _cameras(piece, box=box))):
        camera = view[0]
        lines = seen_lines([body.edges for body in bodies.values()], hiders, camera)
        of_part = dict(zip(bodies, lines, strict=True))
        screws = tuple(driven_screws(assembly, driven, view, letters))
        ways = tuple((camera.seen(start), camera.seen(end)) for start, end in homes)
        pictures.append(
            StepPicture(
                new=tuple(line for each in lines for line in each),
                earlier=(),
                marks=(),
                ways=tuple((start, on_its_way(start, end)) for start, end in ways),
                threads=(*ways, *(screw.thread for screw in screws if screw.thread)),
                screws=screws,
                callouts=tuple(
                    Callout(label=short_label(number), at=place)
                    for number, names in by_number(piece.names, numbers).items()
                    if (place := longest([l for name in names for l in of_part[name]])) is not None
                ),
                caption="the other way round" if at else "",
            )
        )
    return tuple(pictures)


def _cameras(piece: Delivered, *, box: bool) -> Iterator[Camera]:
    """Yield cameras over the bench, the inside of the main part up first, then its outside; a box
    stands as it will in the room.
    """
    main = piece.main
    inside = main.facing.opposite if isinstance(main, Board) and not box else Direction.Z_PLUS
    lying = [axis for axis in Axis if axis is not inside.axis]
    long, wide = sorted(lying, key=piece.box.size if box else main.box.size, reverse=True)
    for up in (inside.vector, reverse(inside.vector)):
        for along, across in ((0.45, 0.62), (-0.45, 0.62), (0.45, -0.62), (-0.45, -0.62)):
            towards = _unit(up.at(long, along).at(wide, across))
            yield Camera(towards, _unit(cross(up, towards)))


def _unit(vector: Point) -> Point:
    size = math.hypot(*vector)
    return Point(*(each / size for each in vector))
