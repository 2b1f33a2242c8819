"""What a view has to show and to tell, before it has a scale or a place on a page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from export.dimensions.content import Measure
from export.dimensions.reading import drawn_length
from export.dimensions.running import Station
from export.part_drawing.content import Kind
from export.part_drawing.lettered import LetteredCut, LetteredHole, lettered_edge_bores
from export.part_drawing.needed import Arc, needed
from export.part_drawing.seen import Seen
from export.part_drawing.stations import stations
from export.svg.elements import Point2
from parametric.geometry.outline import Outline
from parametric.shapes.panel import Edge, EdgeBore, Face, FlatPanel
from parametric.stock.lengths import Units

TITLES = {Face.UP: "upper face", Face.DOWN: "lower face, turned over"}


@dataclass(frozen=True, slots=True)
class RoundSize:
    """A radius or diameter that is to be told."""

    arc: Arc
    text: str
    value_mm: float
    measure: Measure


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewPlan:
    """A view: its edges, what is told of them, the cuts and holes that get letters in it, and the
    through holes that only show. `overall` are the texts of length and width, where it tells them.
    """

    seen: Seen
    edges: tuple[tuple[Kind, Outline], ...]
    along: tuple[Station, ...]
    across: tuple[Station, ...]
    rounds: tuple[RoundSize, ...]
    cuts: tuple[LetteredCut, ...]
    holes: tuple[LetteredHole, ...]
    through: tuple[LetteredHole, ...]
    edge_bores: tuple[tuple[str, EdgeBore], ...]
    bands: tuple[Edge, ...]
    overall: tuple[str, str] | None


def view_plans(
    panel: FlatPanel,
    cuts: tuple[LetteredCut, ...],
    holes: tuple[LetteredHole, ...],
    bands: tuple[Edge, ...],
    units: Units,
) -> tuple[ViewPlan, ...]:
    """Return the view on the upper face, and one on the lower face if that is worked as well. What
    goes right through is told in the first.
    """
    plans = [_plan(panel, Face.UP, cuts, holes, bands, units)]
    if Face.DOWN in panel.faces_worked():
        plans.append(_plan(panel, Face.DOWN, cuts, holes, bands, units))
    return tuple(plans)


def _plan(
    panel: FlatPanel,
    face: Face,
    cuts: tuple[LetteredCut, ...],
    holes: tuple[LetteredHole, ...],
    bands: tuple[Edge, ...],
    units: Units,
) -> ViewPlan:
    seen = Seen.of(panel, face)
    first = face is Face.UP
    own_cuts = tuple(cut for cut in cuts if cut.face is face)
    told = [(edge, cut.corner_mm is None) for cut in own_cuts for edge in cut.edges]
    if first:
        told.insert(0, (panel.outline, True))
    places: list[Point2] = []
    rounds: list[RoundSize] = []
    for edge, with_corners in told:
        own = seen.own(edge)
        places += needed(own).places
        rounds += _rounds(own, with_corners, units)
    along, across = stations(seen, places, units)
    through = tuple(hole for hole in holes if hole.bore.depth_mm is None)
    sizes = tuple(drawn_length(mm, units) for mm in (panel.length_mm, panel.width_mm))
    return ViewPlan(
        seen=seen,
        edges=tuple(_edges(panel, seen, cuts)),
        along=along,
        across=across,
        rounds=tuple(rounds),
        cuts=own_cuts,
        holes=tuple(hole for hole in holes if hole.bore.face is face),
        through=() if first else through,
        edge_bores=tuple(lettered_edge_bores(panel.edge_bores)) if first else (),
        bands=bands,
        overall=(sizes[0], sizes[1]) if first else None,
    )


def _edges(
    panel: FlatPanel, seen: Seen, cuts: tuple[LetteredCut, ...]
) -> Iterator[tuple[Kind, Outline]]:
    for cut in cuts:
        if cut.kind is Kind.OPENING or cut.face is seen.face:
            for edge in cut.edges:
                yield cut.kind, seen.own(edge)
    yield Kind.PART, seen.own(panel.outline)  # last: heavier, over what ends at it


def _rounds(edge: Outline, with_corners: bool, units: Units) -> Iterator[RoundSize]:
    found = needed(edge)
    if found.circle is not None:
        across = 2 * found.circle.radius_mm
        text = f"dia {drawn_length(across, units)}"
        yield RoundSize(found.circle, text, across, Measure.DIAMETER)
        return
    for arc in (*found.rounded, *found.arcs) if with_corners else found.arcs:
        text = f"R{drawn_length(arc.radius_mm, units)}"
        yield RoundSize(arc, text, arc.radius_mm, Measure.RADIUS)
