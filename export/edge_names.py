"""The edges of a part as people call them: by number, alike on drawings, labels and lists."""

from __future__ import annotations

from collections.abc import Mapping

from parametric.lists.cut_list import Part
from parametric.shapes.panel import Edge

EDGE_NUMBERS = {Edge.Y_LOW: 1, Edge.X_HIGH: 2, Edge.Y_HIGH: 3, Edge.X_LOW: 4}
"""Counter-clockwise from the lower one, as a part's file and the drawing of its upper face have it.
"""

HOW_NUMBERED = (
    "The edges of a part are numbered as its drawing shows its upper face: 1 below, 2 on the right,"
    " 3 above, 4 on the left. An edge keeps its number when the part is turned."
)


def edge_name(edge: Edge) -> str:
    """Return what people call an edge.

    >>> edge_name(Edge.X_HIGH)
    'edge 2'
    """
    return f"edge {EDGE_NUMBERS[edge]}"


def edge_named(name: str) -> Edge:
    """Return the edge that is called so, or by its own value, as earlier issues of a job have it.

    Raises:
        ValueError: no edge is.
    """
    return next((edge for edge in Edge if edge_name(edge) == name), None) or Edge(name)


def bands_of(part: Part) -> dict[Edge, str]:
    """Return the keys of a part's bands by edge, in the order of their numbers."""
    found = {banding.edge: banding.band.key for banding in part.banding}
    return {edge: found[edge] for edge in EDGE_NUMBERS if edge in found}


def bands_by_edge(bands: Mapping[Edge, str]) -> str:
    """Return each banded edge with its band, as programs read it back.

    >>> bands_by_edge({Edge.X_LOW: "oak", Edge.Y_LOW: "oak"})
    'edge 1: oak; edge 4: oak'
    """
    return "; ".join(f"{edge_name(edge)}: {bands[edge]}" for edge in EDGE_NUMBERS if edge in bands)


def bands_in_words(bands: Mapping[Edge, str]) -> str:
    """Return the bands, each once with all its edges.

    >>> bands_in_words({Edge.X_LOW: "oak", Edge.Y_LOW: "oak", Edge.Y_HIGH: "pine"})
    'edges 1, 4: oak; edge 3: pine'
    """
    edges: dict[str, list[str]] = {}
    for edge, number in EDGE_NUMBERS.items():
        if edge in bands:
            edges.setdefault(bands[edge], []).append(str(number))
    return "; ".join(
        f"edge{'s' * (len(numbers) > 1)} {', '.join(numbers)}: {band}"
        for band, numbers in edges.items()
    )
