"""Parts of two issues held against each other, however each lies in its files."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from export.changes.issue import IssuedPart
from export.edge_names import bands_in_words
from parametric.shapes.panel import Bore, Edge, FlatPanel
from parametric.shapes.same_panel import (
    Thing,
    near,
    same_bore,
    same_edge_bore,
    same_outline,
    same_panel,
    same_pocket,
)
from parametric.stock.lengths import Units, show_cut_length, show_length

_HALF = {
    Edge.X_LOW: Edge.X_HIGH,
    Edge.X_HIGH: Edge.X_LOW,
    Edge.Y_LOW: Edge.Y_HIGH,
    Edge.Y_HIGH: Edge.Y_LOW,
}
_OVER = {**{edge: edge for edge in Edge}, Edge.Y_LOW: Edge.Y_HIGH, Edge.Y_HIGH: Edge.Y_LOW}
_QUARTER = {
    Edge.X_LOW: Edge.Y_LOW,
    Edge.X_HIGH: Edge.Y_HIGH,
    Edge.Y_LOW: Edge.X_HIGH,
    Edge.Y_HIGH: Edge.X_LOW,
}
_FACES_OVER = {"up": "down", "down": "up"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Lying:
    """A part as it lies: panel, bands by edge, where its seen face looks."""

    panel: FlatPanel
    bands: Mapping[Edge, str]
    show: str


def ways_to_lie(part: IssuedPart) -> Iterator[Lying]:
    """Yield the part in every way that it may lie, as it is in its files first."""
    lying = Lying(panel=part.panel, bands=part.bands, show=part.row["show_face"])
    starts = [lying, _over(lying)]
    if part.row["grain"] == "none":
        starts += [_quarter(start) for start in tuple(starts)]
    for start in starts:
        yield start
        yield replace(start, panel=start.panel.turned_half(), bands=_moved(start.bands, _HALF))


def same_part(old: IssuedPart, new: IssuedPart) -> bool:
    """Return whether two parts are one and the same thing, whatever they are called."""
    if any(old.row[key] != new.row[key] for key in ("material", "grain")):
        return False
    if not near(old.panel.thickness_mm, new.panel.thickness_mm):
        return False
    here = Lying(panel=new.panel, bands=new.bands, show=new.row["show_face"])
    return any(
        way.show == here.show and way.bands == here.bands and same_panel(way.panel, here.panel)
        for way in ways_to_lie(old)
    )


def alike_lying(old: IssuedPart, new: IssuedPart) -> Lying:
    """Return the old part as it lies most like the new one."""
    return min(ways_to_lie(old), key=lambda way: _unlike(way, new))


def part_differences(old: IssuedPart, new: IssuedPart, units: Units) -> tuple[str, ...]:
    """Return in words what differs, most telling first."""
    way, panel = alike_lying(old, new), new.panel
    told = [
        f"{name} {was} is now {now}"
        for name, was, now in (
            ("material", old.row["material"], new.row["material"]),
            ("grain", old.row["grain"], new.row["grain"]),
        )
        if was != now
    ]
    for name, was_mm, now_mm in (
        ("thickness", way.panel.thickness_mm, panel.thickness_mm),
        ("cut length", way.panel.length_mm, panel.length_mm),
        ("cut width", way.panel.width_mm, panel.width_mm),
    ):
        if not near(was_mm, now_mm):
            was, now = show_cut_length(was_mm, units), show_cut_length(now_mm, units)
            told.append(f"{name} {was} is now {now if now != was else f'{now_mm:.2f} mm'}")
    if way.bands != new.bands:
        told.append(f"bands {_bands(way.bands)} are now {_bands(new.bands)}")
    if way.show != new.row["show_face"]:
        told.append("the seen face is another one")
    return (*told, *_cut_differences(way.panel, panel, units))


def _cut_differences(old: FlatPanel, new: FlatPanel, units: Units) -> Iterator[str]:
    same_size = near(old.length_mm, new.length_mm) and near(old.width_mm, new.width_mm)
    if not same_outline(old.outline, new.outline) and (
        same_size or len(old.outline.vertices) != len(new.outline.vertices)
    ):
        yield "outline"
    yield from _counted("opening", *_unpaired(old.openings, new.openings, same_outline))
    yield from _counted("groove or recess", *_unpaired(old.pockets, new.pockets, same_pocket))
    gone, come = _unpaired(old.bores, new.bores, same_bore)
    before, after = Counter(map(_kind, gone)), Counter(map(_kind, come))
    for kind in sorted({*before, *after}):
        diameter_mm, depth_mm, face = kind
        depth = "through" if depth_mm < 0 else f"{show_length(depth_mm, units)} deep"
        name = f"hole {show_length(diameter_mm, units)} {depth}, {face} face"
        yield from _counted(name, before[kind] * [name], after[kind] * [name])
    yield from _counted("edge hole", *_unpaired(old.edge_bores, new.edge_bores, same_edge_bore))


def _counted(name: str, gone: Sequence[object], come: Sequence[object]) -> Iterator[str]:
    """Yield how many are moved or resized, added and gone."""
    both = min(len(gone), len(come))
    for count, what in (
        (both, "moved or resized"),
        (len(come) - both, "added"),
        (len(gone) - both, "gone"),
    ):
        if count:
            yield f"{name}: {count} {what}"


def _unpaired(
    old: Sequence[Thing], new: Sequence[Thing], same: Callable[[Thing, Thing], bool]
) -> tuple[list[Thing], list[Thing]]:
    """Return what is only on the one side, and only on the other."""
    gone, come = [], list(new)
    for this in old:
        at = next((index for index, that in enumerate(come) if same(this, that)), None)
        if at is None:
            gone.append(this)
        else:
            del come[at]
    return gone, come


def _kind(bore: Bore) -> tuple[float, float, str]:
    depth_mm = -1.0 if bore.depth_mm is None else round(bore.depth_mm, 2)
    return round(bore.diameter_mm, 2), depth_mm, bore.face.value


def _unlike(way: Lying, new: IssuedPart) -> float:
    """Return how much a way to lie differs from the new part; features weigh, sizes break ties."""
    panel = new.panel
    features = sum(
        max(map(len, unpaired))
        for unpaired in (
            _unpaired(way.panel.openings, panel.openings, same_outline),
            _unpaired(way.panel.pockets, panel.pockets, same_pocket),
            _unpaired(way.panel.bores, panel.bores, same_bore),
            _unpaired(way.panel.edge_bores, panel.edge_bores, same_edge_bore),
        )
    )
    others = (way.bands != new.bands) + (way.show != new.row["show_face"])
    others += not same_outline(way.panel.outline, panel.outline)
    sizes = abs(way.panel.length_mm - panel.length_mm) + abs(way.panel.width_mm - panel.width_mm)
    return features + 3 * others + sizes / 100.0


def _over(lying: Lying) -> Lying:
    show = _FACES_OVER.get(lying.show, lying.show)
    return Lying(panel=lying.panel.turned_over(), bands=_moved(lying.bands, _OVER), show=show)


def _quarter(lying: Lying) -> Lying:
    bands = _moved(lying.bands, _QUARTER)
    return replace(lying, panel=lying.panel.turned_quarter(), bands=bands)


def _moved(bands: Mapping[Edge, str], to: Mapping[Edge, Edge]) -> dict[Edge, str]:
    return {to[edge]: band for edge, band in bands.items()}


def _bands(bands: Mapping[Edge, str]) -> str:
    return bands_in_words(bands) or "none"
