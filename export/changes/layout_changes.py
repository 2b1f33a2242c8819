"""Which layouts still cut the same, and what sheets that are already cut are still good for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass

from export.changes.issue import Issue, IssuedLayout
from export.changes.part_changes import Kind
from export.layer_table import Layer, LayerRole
from parametric.geometry.outline import Vertex

_DECIMALS = 4  # of millimetres: far below what a file rounds, far above float noise


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutChange:
    """What became of a layout: its file before and now, blank for none, and its runs."""

    kind: Kind
    was: str
    now: str
    runs_was: int
    runs_now: int
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPart:
    """A part of which some are already cut: by its numbers before and now (blank: it is no part of
    the job any more), how many are cut, how many are wanted now, how many are still to cut.
    """

    was: str
    now: str
    cut: int
    wanted: int
    missing: int


def layout_changes(old: Issue, new: Issue, kept: Mapping[str, str]) -> tuple[LayoutChange, ...]:
    """Return what became of each layout that is not just as it was; `kept` are the new numbers of
    parts that are the same, by their old ones.
    """
    pairs = kept_layouts(old, new, kept)
    after = {layout.file: layout for layout in new.layouts}
    found = []
    for layout in old.layouts:
        now = pairs.get(layout.file)
        if now is None:
            found.append(_change(Kind.GONE, layout, None))
        elif after[now].runs != layout.runs:
            found.append(_change(Kind.COUNT, layout, after[now]))
        elif now != layout.file:
            found.append(_change(Kind.RENUMBERED, layout, after[now]))
    come = [each for each in new.layouts if each.file not in set(pairs.values())]
    return (*found, *(_change(Kind.ADDED, None, layout) for layout in come))


def kept_layouts(old: Issue, new: Issue, kept: Mapping[str, str]) -> dict[str, str]:
    """Return the new file of each layout that cuts the same parts in the same places, by its old
    one.
    """
    free: dict[Hashable, list[str]] = {}
    for layout in new.layouts:
        free.setdefault(_cuts(layout, new.layers, {}), []).append(layout.file)
    pairs: dict[str, str] = {}
    for layout in old.layouts:
        files = free.get(_cuts(layout, old.layers, kept), [])
        if files:
            same = layout.file if layout.file in files else files[0]
            files.remove(same)
            pairs[layout.file] = same
    return pairs


def cut_parts(
    old: Issue, new: Issue, kept: Mapping[str, str], cut: Mapping[str, int]
) -> tuple[CutPart, ...]:
    """Return what is cut already, part by part; `cut` are the runs done of old layouts by file."""
    done: Counter[str] = Counter()
    for layout in old.layouts:
        for number in _numbers(layout, old.layers):
            done[number] += cut.get(layout.file, 0)
    found = []
    for was in sorted(number for number, count in done.items() if count):
        now = kept.get(was, "")
        wanted = int(new.parts[now].row["quantity"]) if now else 0
        missing = max(0, wanted - done[was])
        found.append(CutPart(was=was, now=now, cut=done[was], wanted=wanted, missing=missing))
    return tuple(found)


def _change(kind: Kind, old: IssuedLayout | None, new: IssuedLayout | None) -> LayoutChange:
    shown = new or old
    numbers = () if shown is None else dict.fromkeys(label.text for label in shown.drawing.labels)
    return LayoutChange(
        kind=kind,
        was="" if old is None else old.file,
        now="" if new is None else new.file,
        runs_was=0 if old is None else old.runs,
        runs_now=0 if new is None else new.runs,
        parts=tuple(sorted(numbers)),
    )


def _numbers(layout: IssuedLayout, layers: Mapping[str, Layer]) -> Iterable[str]:
    texts = {name for name, layer in layers.items() if layer.role is LayerRole.TEXT}
    return (label.text for label in layout.drawing.labels if label.layer in texts)


def _cuts(
    layout: IssuedLayout, layers: Mapping[str, Layer], renamed: Mapping[str, str]
) -> Hashable:
    """Return what a layout cuts, apart from how its file names it."""
    drawing = layout.drawing
    cuts: Counter[Hashable] = Counter()
    for path in drawing.paths:
        cuts[_meaning(layers[path.layer]), tuple(map(_place, path.vertices))] += 1
    for circle in drawing.circles:
        at = (round(circle.x, _DECIMALS), round(circle.y, _DECIMALS))
        cuts[_meaning(layers[circle.layer]), at, round(circle.diameter_mm, _DECIMALS)] += 1
    numbers = Counter(renamed.get(number, number) for number in _numbers(layout, layers))
    what = (layout.material, layout.face_up, layout.stock)
    return what, frozenset(cuts.items()), frozenset(numbers.items())


def _meaning(layer: Layer) -> Hashable:
    return layer.role, layer.depth_mm, layer.diameter_mm, layer.face


def _place(vertex: Vertex) -> tuple[float, ...]:
    return tuple(round(value, _DECIMALS) + 0.0 for value in vertex)
