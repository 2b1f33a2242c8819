"""A colour for every layer: index numbers of the DXF format's fixed palette.

A layer has the same colour in all files of a job, because it is given by the job's layer table.
"""

from __future__ import annotations

from export.layer_table import LayerRole, LayerTable

_BY_ROLE = {
    LayerRole.SHEET: 8,  # grey: for reference
    LayerRole.OUTLINE: 1,  # red
    LayerRole.OPENING: 5,  # blue
    LayerRole.TEXT: 3,  # green: not cut
}
_LOOK_THE_SAME = {10, 90, 170}  # as red, green and blue

# 24 hues: first a shade that shows on a white ground and on a black one, then the others. A stride
# of 7 hues keeps the colours of neighbouring depths apart.
_STRIDE = 7
_HUES = [10 + 10 * (step * _STRIDE % 24) for step in range(24)]
_SHADES = (2, 0, 4, 6, 1, 3, 8, 5, 7, 9)
_FOR_DEPTHS = [
    hue + shade for shade in _SHADES for hue in _HUES if hue + shade not in _LOOK_THE_SAME
]

MOST_DEPTH_LAYERS = len(_FOR_DEPTHS)


def layer_colours(layers: LayerTable) -> dict[str, int]:
    """Return the palette index of each layer by name; no index is given twice.

    Raises:
        ValueError: there are more groove and bore layers than colours.
    """
    free = iter(_FOR_DEPTHS)
    colours = {}
    for layer in layers.layers:
        colour = _BY_ROLE.get(layer.role) or next(free, None)
        if colour is None:
            raise ValueError(f"more than {MOST_DEPTH_LAYERS} groove and bore layers in one job")
        colours[layer.name] = colour
    return colours
