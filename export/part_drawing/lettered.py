"""What a part's tables name by letter: kinds of holes, grooves, openings, notches."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import count, product

from export.part_drawing.channel import channel_widths_mm
from export.part_drawing.content import Kind
from export.part_drawing.needed import Arc, needed
from export.part_drawing.seen import flattened
from export.svg.elements import Point2
from parametric.geometry.outline import Bounds, Outline
from parametric.geometry.space import SAME_MM
from parametric.shapes.panel import Bore, EdgeBore, Face, FlatPanel

_LETTERS = (
    "ABCDFHJKLMPQTUVWXYZ"
    """E, G, N and S name other things, R a radius; I and O look like digits."""
)


@dataclass(frozen=True, slots=True)
class LetteredHole:
    """A hole and the letter of its kind."""

    letter: str
    bore: Bore


@dataclass(frozen=True, slots=True, kw_only=True)
class LetteredCut:
    """A groove (G), an opening or slot (S) or a notch (N) with its edges, the first the outer one.

    `depth_mm` is None where it goes right through, `corner_mm` where its rounded corners differ.
    `length_mm` and `width_mm` are its size over all, of a notch without the overcuts of a bit, of
    radius `overcut_mm`. `channels_mm` are the widths between the sides of a groove that turns
    corners.
    """

    mark: str
    what: str
    face: Face
    depth_mm: float | None
    edges: tuple[Outline, ...]
    corner_mm: float | None
    length_mm: float
    width_mm: float
    within: Bounds
    channels_mm: tuple[float, ...] = ()
    overcut_mm: float | None = None

    @property
    def kind(self) -> Kind:
        """What its edges bound."""
        return Kind.OPENING if self.depth_mm is None else Kind.GROOVE


def lettered_holes(panel: FlatPanel) -> tuple[LetteredHole, ...]:
    """Return the holes by kind: from the face that lies up before the other, thin before wide, deep
    before through; within a kind along the length.
    """
    kinds: list[Bore] = []
    listed = []
    for bore in sorted(panel.bores, key=_by_kind):
        if not kinds or not _alike(kinds[-1], bore):
            kinds.append(bore)
        listed.append((len(kinds) - 1, bore))
    letters = list(_letters(len(kinds)))
    ordered = sorted(listed, key=lambda each: (each[0], round(each[1].x, 6), each[1].y))
    return tuple(LetteredHole(letters[kind], bore) for kind, bore in ordered)


def lettered_edge_bores(bores: Iterable[EdgeBore]) -> Iterator[tuple[str, EdgeBore]]:
    """Yield the holes into edges with their marks, from the corner along the length."""
    ordered = sorted(bores, key=lambda each: (round(each.x, 6), round(each.y, 6), each.z_mm))
    for number, bore in enumerate(ordered, start=1):
        yield f"E{number}", bore


def _by_kind(bore: Bore) -> tuple[object, ...]:
    depth = float("inf") if bore.depth_mm is None else round(bore.depth_mm, 6)
    return bore.face is Face.DOWN, round(bore.diameter_mm, 6), depth


def _alike(a: Bore, b: Bore) -> bool:
    if a.face is not b.face or (a.depth_mm is None) is not (b.depth_mm is None):
        return False
    deep = abs((a.depth_mm or 0.0) - (b.depth_mm or 0.0)) <= SAME_MM
    return deep and abs(a.diameter_mm - b.diameter_mm) <= SAME_MM


def _letters(many: int) -> Iterator[str]:
    for length in count(1):
        for letters in product(_LETTERS, repeat=length):
            if many == 0:
                return
            many -= 1
            yield "".join(letters)


def lettered_cuts(panel: FlatPanel) -> tuple[LetteredCut, ...]:
    """Return grooves, openings and notches, each sort from the corner along the length."""
    pockets = [
        _cut("groove", pocket.face, pocket.depth_mm, (pocket.outline, *pocket.islands))
        for pocket in sorted(panel.pockets, key=lambda each: _first(each.outline))
    ]
    openings = [
        _cut("opening", Face.UP, None, (each,)) for each in sorted(panel.openings, key=_first)
    ]
    notches = sorted(notch_bounds(panel), key=lambda box: (box.x0, box.y0))
    cuts = [
        *_marked("G", pockets),
        *_marked("S", openings),
        *_marked("N", [_notch(box, panel) for box in notches]),
    ]
    return tuple(cuts)


def _marked(letter: str, cuts: Sequence[LetteredCut]) -> Iterator[LetteredCut]:
    for number, cut in enumerate(cuts, start=1):
        yield replace(cut, mark=f"{letter}{number}")


def _cut(what: str, face: Face, depth_mm: float | None, edges: tuple[Outline, ...]) -> LetteredCut:
    box = edges[0].bounds
    least = min(box.x1 - box.x0, box.y1 - box.y0)
    channels = channel_widths_mm([flattened(edge) for edge in edges]) if depth_mm else ()
    return LetteredCut(
        mark="",
        what=what,
        face=face,
        depth_mm=depth_mm,
        edges=edges,
        corner_mm=_one_radius(arc for edge in edges for arc in needed(edge).rounded),
        length_mm=box.x1 - box.x0,
        width_mm=box.y1 - box.y0,
        within=box,
        channels_mm=channels if any(each < least - SAME_MM for each in channels) else (),
    )


def _one_radius(arcs: Iterable[Arc]) -> float | None:
    radii = [arc.radius_mm for arc in arcs]
    return radii[0] if radii and max(radii) - min(radii) <= SAME_MM else None


def _notch(box: Bounds, panel: FlatPanel) -> LetteredCut:
    found = needed(panel.outline)
    return LetteredCut(
        mark="",
        what="notch",
        face=Face.UP,
        depth_mm=None,
        edges=(),
        corner_mm=_one_radius(arc for arc in found.rounded if _inside(arc, box, 0.0)),
        overcut_mm=_one_radius(arc for arc in found.arcs if _inside(arc, box, arc.radius_mm)),
        length_mm=box.x1 - box.x0,
        width_mm=box.y1 - box.y0,
        within=box,
    )


def _inside(arc: Arc, box: Bounds, over_mm: float) -> bool:
    """Return whether the middle of an arc is in a notch, or over its sides by no more than that."""
    (x, y) = arc.middle
    level = box.x0 - over_mm <= x <= box.x1 + over_mm
    return level and box.y0 - over_mm <= y <= box.y1 + over_mm


def _first(outline: Outline) -> tuple[float, float]:
    box = outline.bounds
    return round(box.x0, 6), round(box.y0, 6)


def notch_bounds(panel: FlatPanel) -> Iterator[Bounds]:
    """Yield the notches of a panel's edge: where it leaves one side of the rectangle around it and
    comes back to that same side.
    """
    points = [(vertex.x, vertex.y) for vertex in panel.outline.vertices]
    sides = [_sides(point, panel) for point in points]
    starts = [i for i, here in enumerate(sides) if here]
    for start, end in zip(starts, starts[1:] + starts[:1], strict=True):
        inner = [
            points[(start + step) % len(points)] for step in range(1, (end - start) % len(points))
        ]
        shared = sides[start] & sides[end]
        if len(inner) < 2 or not shared:
            continue
        (ax, ay), (bx, by) = points[start], points[end]
        side = min(shared)
        if side in "bt":
            deep = max(abs(y - ay) for _, y in inner)
            y0 = ay if side == "b" else ay - deep
            yield Bounds(min(ax, bx), y0, max(ax, bx), y0 + deep)
        else:
            deep = max(abs(x - ax) for x, _ in inner)
            x0 = ax if side == "l" else ax - deep
            yield Bounds(x0, min(ay, by), x0 + deep, max(ay, by))


def _sides(point: Point2, panel: FlatPanel) -> frozenset[str]:
    x, y = point
    on = {
        "l": abs(x) <= SAME_MM,
        "r": abs(x - panel.length_mm) <= SAME_MM,
        "b": abs(y) <= SAME_MM,
        "t": abs(y - panel.width_mm) <= SAME_MM,
    }
    return frozenset(side for side, here in on.items() if here)
