"""Random panels for hypothesis: outlines of lines and arcs, openings, grooves and holes."""

from __future__ import annotations

import math

from hypothesis import strategies as st

from parametric.geometry.outline import Outline, Vertex
from parametric.shapes.panel import Bore, Face, FlatPanel, Pocket
from tests.export.sample_parts import flat_panel

QUARTER = math.tan(math.radians(90) / 4)  # bulge of a quarter of a circle


def _corner(x: float, y: float, dx: int, dy: int, kind: str, size: float) -> list[Vertex]:
    """A corner reached along (dx, dy) and left along (-dy, dx), counter-clockwise."""
    if kind == "sharp":
        return [Vertex(x, y)]
    before = (x - dx * size, y - dy * size)
    after = (x - dy * size, y + dx * size)
    bulge = {"round": QUARTER, "hollow": -QUARTER, "cut off": 0.0}[kind]
    return [Vertex(*before, bulge), Vertex(*after)]


@st.composite
def outlines(draw: st.DrawFn) -> Outline:
    """A rectangle whose corners are sharp, round, hollow or cut off, and one side may be bowed."""
    length, width = draw(st.floats(100, 3000)), draw(st.floats(100, 2000))
    kinds = st.sampled_from(["sharp", "round", "hollow", "cut off"])
    vertices: list[Vertex] = []
    for x, y, dx, dy in (
        (length, 0.0, 1, 0),
        (length, width, 0, 1),
        (0.0, width, -1, 0),
        (0.0, 0.0, 0, -1),
    ):
        vertices += _corner(x, y, dx, dy, draw(kinds), draw(st.floats(1, 25)))
    if draw(st.booleans()):
        # Bow the last side inwards, by less than the parts of the other sides that are straight.
        last = vertices[-1]
        vertices[-1] = Vertex(last.x, last.y, -draw(st.floats(0.001, 0.01)))
    return Outline(tuple(vertices))


@st.composite
def panels(draw: st.DrawFn) -> FlatPanel:
    """A panel with a random outline, and features in cells of their own so that none is double."""
    outline = draw(outlines())
    box = outline.bounds
    length, width = box.x1 - box.x0, box.y1 - box.y0
    cells = draw(
        st.lists(
            st.tuples(
                st.integers(0, 4),
                st.integers(0, 2),
                st.sampled_from(["slot", "groove", "hole", "blind hole", "large hole"]),
            ),
            unique_by=lambda cell: cell[:2],
            max_size=8,
        )
    )
    face = st.sampled_from(list(Face))
    openings, pockets, bores = [], [], []
    for column, row, kind in cells:
        x, y = 30 + column * (length - 60) / 5, 30 + row * (width - 60) / 3
        # Whole thousandths, which is what names of layers tell apart.
        size = draw(st.integers(500, int(min(length, width) * 100) - 4600)) / 1000
        depth = draw(st.integers(500, 17500)) / 1000
        if kind == "slot":
            openings.append(Outline.rectangle(size, size / 2 + 0.1))
            openings[-1] = Outline(tuple(Vertex(v.x + x, v.y + y) for v in openings[-1].vertices))
        elif kind == "groove":
            ring = Outline.circle(x, y, size)
            island = Outline.circle(x, y, size / 3)
            pockets.append(Pocket(outline=ring, islands=(island,), depth_mm=depth, face=draw(face)))
        else:
            through = kind != "blind hole"
            bores.append(
                Bore(
                    x=x,
                    y=y,
                    diameter_mm=size + (20 if kind == "large hole" else 0),
                    depth_mm=None if through else depth,
                    face=Face.UP if through else draw(face),
                )
            )
    return flat_panel(
        length,
        width,
        outline=Outline(
            tuple(Vertex(v.x - box.x0, v.y - box.y0, v.bulge) for v in outline.vertices)
        ),
        openings=tuple(openings),
        pockets=tuple(pockets),
        bores=tuple(bores),
    )
