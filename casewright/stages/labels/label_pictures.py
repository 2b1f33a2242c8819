"""The small pictures of parts on labels, from the DXF files that the machine gets."""

from __future__ import annotations

from collections.abc import Iterable

from casewright.stages.shop.sheet_stage import ShopFiles
from export.edge_names import bands_of
from export.labels.content import PartPicture
from export.layer_table import LayerRole
from parametric.geometry.pose import Pose, reverse
from parametric.lists.cut_list import Part, PartUse
from parametric.lists.operations import Operation
from parametric.shapes.panel import Edge, Face
from parametric.stock.materials import Grain


def part_pictures(shop: ShopFiles, parts: Iterable[Part]) -> dict[str, PartPicture]:
    """Return the picture of each part that has a file, as its first operation has it; what ends up
    above is left to where it goes.
    """
    by_number = {part.number: part for part in parts}
    outline = shop.layers.names_of(LayerRole.OUTLINE)
    opening = shop.layers.names_of(LayerRole.OPENING)
    pictures = {}
    for file in shop.parts:
        if file.operation is Operation.FIRST:
            part, paths = by_number[file.part], file.read.drawing.paths
            pictures[file.part] = PartPicture(
                outlines=tuple(path.vertices for path in paths if path.layer in outline),
                openings=tuple(path.vertices for path in paths if path.layer in opening),
                grain=part.material.grain is Grain.LENGTHWISE,
                banded=tuple(bands_of(part)),
            )
    return pictures


def top_of(use: PartUse) -> Edge | Face:
    """Return the edge of a part that ends up above, or the face of one that lies."""
    pose = Pose(use.origin, use.x_axis, use.z_axis)
    if abs(pose.z_axis.z) > 0.5:
        return Face.UP if pose.z_axis.z > 0 else Face.DOWN
    ways = {
        Edge.X_HIGH: pose.x_axis,
        Edge.X_LOW: reverse(pose.x_axis),
        Edge.Y_HIGH: pose.y_axis,
        Edge.Y_LOW: reverse(pose.y_axis),
    }
    return max(ways, key=lambda edge: ways[edge].z)
