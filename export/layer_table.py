"""The layers of a job's DXF files: one for each operation and depth.

Glossary: a layer's *role* says what the operator does with it; its *face* is the panel's face that
the cut starts from, as the panel lies in its first operation. A depth of None goes right through.
Layers of the roles `sheet` and `text` are never cut.

Pockets go on groove layers. The islands of a pocket are closed paths of their own on the same
layer: what is cut is what lies inside an odd number of paths (even-odd rule).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from export.errors import LayerNameFault
from export.layer_names import LONGEST_LAYER_NAME, PORTABLE_NAME, LayerNames
from parametric.geometry.space import SAME_MM
from parametric.lists.cut_list import Part
from parametric.shapes.panel import Bore, Face


class LayerRole(StrEnum):
    """What the operator does with a layer."""

    SHEET = "sheet"  # the sheet's or workpiece's edge, for reference
    OUTLINE = "outline"
    OPENING = "opening"
    GROOVE = "groove"
    BORE = "bore"
    TEXT = "text"


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer: the depth and diameter are exact, the name shows up to three decimals."""

    name: str
    role: LayerRole
    depth_mm: float | None
    diameter_mm: float | None
    face: Face


@dataclass(frozen=True, slots=True, kw_only=True)
class LayerTable:
    """All layers of a job, in a fixed order, and the largest hole that is drilled, not routed."""

    layers: tuple[Layer, ...]
    largest_drill_mm: float

    def is_drilled(self, bore: Bore) -> bool:
        """Return whether the hole is drilled; a larger one is routed along its edge."""
        return _is_drilled(bore, self.largest_drill_mm)

    def plain(self, role: LayerRole) -> str:
        """Return the name of the layer of a role that has one layer only.

        Raises:
            KeyError: no part of the job needs that layer.
        """
        return self._name(role, None, None, Face.UP)

    def groove(self, depth_mm: float, face: Face) -> str:
        """Return the name of the layer for a pocket of that depth.

        Raises:
            KeyError: no part of the job has such a pocket.
        """
        return self._name(LayerRole.GROOVE, depth_mm, None, face)

    def bore(self, bore: Bore, face: Face) -> str:
        """Return the name of the layer for a drilled hole that starts from `face`.

        Raises:
            KeyError: no part of the job has such a hole.
        """
        return self._name(LayerRole.BORE, bore.depth_mm, bore.diameter_mm, face)

    def by_name(self) -> dict[str, Layer]:
        """Return the layers by name, in the table's order."""
        return {layer.name: layer for layer in self.layers}

    def names_of(self, role: LayerRole) -> tuple[str, ...]:
        """Return the names of all layers of a role, in the table's order."""
        return tuple(layer.name for layer in self.layers if layer.role is role)

    def _name(
        self, role: LayerRole, depth_mm: float | None, diameter_mm: float | None, face: Face
    ) -> str:
        for layer in self.layers:
            if (
                layer.role is role
                and layer.face is face
                and _same(layer.depth_mm, depth_mm)
                and _same(layer.diameter_mm, diameter_mm)
            ):
                return layer.name
        raise KeyError(f"no layer for {role} depth {depth_mm} diameter {diameter_mm} {face}")


def layer_table(
    parts: Iterable[Part], layer_names: LayerNames, largest_drill_mm: float
) -> LayerTable:
    """Return the layers that the parts need: sheet, outline and text always, others when used.

    Depths and diameters (mm) closer than `SAME_MM` share a layer. The order of `parts` does not
    matter.

    Raises:
        LayerNameFault: two layers get one name, or a name is not portable to the oldest DXF.
    """
    needs = [need for part in parts for need in _needs(part, largest_drill_mm)]
    plain = [LayerRole.SHEET, LayerRole.OUTLINE, LayerRole.TEXT]
    if any(need.role is LayerRole.OPENING for need in needs):
        plain.insert(2, LayerRole.OPENING)
    kinds = [_Kind(role, Face.UP, None, None) for role in plain] + _merged_cuts(needs)
    layers = tuple(
        Layer(
            name=_filled_name(kind, layer_names),
            role=kind.role,
            depth_mm=kind.depth_mm,
            diameter_mm=kind.diameter_mm,
            face=kind.face,
        )
        for kind in kinds
    )
    _refuse_unfit_names(layers)
    return LayerTable(layers=layers, largest_drill_mm=largest_drill_mm)


def shown_number(value: float) -> str:
    """Return a number for a layer name: up to three decimals, `_` as the decimal mark.

    9.525 becomes `9_525`, 12.0 becomes `12`.
    """
    return f"{value:.3f}".rstrip("0").rstrip(".").replace(".", "_")


@dataclass(frozen=True, slots=True)
class _Kind:
    role: LayerRole
    face: Face
    depth_mm: float | None
    diameter_mm: float | None

    def sort_key(self) -> tuple[int, bool, float, float]:
        roles = list(LayerRole)
        # Through holes come after blind ones of any depth.
        depth = float("inf") if self.depth_mm is None else self.depth_mm
        return roles.index(self.role), self.face is Face.DOWN, self.diameter_mm or 0.0, depth


def _needs(part: Part, largest_drill_mm: float) -> Iterator[_Kind]:
    panel = part.panel
    if panel.openings:
        yield _Kind(LayerRole.OPENING, Face.UP, None, None)
    for pocket in panel.pockets:
        yield _Kind(LayerRole.GROOVE, pocket.face, pocket.depth_mm, None)
    for bore in panel.bores:
        if _is_drilled(bore, largest_drill_mm):
            yield _Kind(LayerRole.BORE, bore.face, bore.depth_mm, bore.diameter_mm)
        elif bore.depth_mm is None:
            yield _Kind(LayerRole.OPENING, Face.UP, None, None)
        else:
            yield _Kind(LayerRole.GROOVE, bore.face, bore.depth_mm, None)


def _merged_cuts(needs: Sequence[_Kind]) -> list[_Kind]:
    """Return the groove and bore layers in order, those equal within `SAME_MM` only once."""
    merged: list[_Kind] = []
    cuts = [need for need in needs if need.role in (LayerRole.GROOVE, LayerRole.BORE)]
    for need in sorted(cuts, key=_Kind.sort_key):
        if not any(_one_layer(need, known) for known in merged):
            merged.append(need)
    return merged


def _one_layer(a: _Kind, b: _Kind) -> bool:
    return (
        a.role is b.role
        and a.face is b.face
        and _same(a.depth_mm, b.depth_mm)
        and _same(a.diameter_mm, b.diameter_mm)
    )


def _same(a: float | None, b: float | None) -> bool:
    if a is None or b is None:
        return a is b
    return abs(a - b) <= SAME_MM


def _is_drilled(bore: Bore, largest_drill_mm: float) -> bool:
    return bore.diameter_mm <= largest_drill_mm + SAME_MM


def _filled_name(kind: _Kind, names: LayerNames) -> str:
    template = {
        LayerRole.SHEET: names.sheet,
        LayerRole.OUTLINE: names.outline,
        LayerRole.OPENING: names.opening,
        LayerRole.GROOVE: names.groove,
        LayerRole.BORE: names.bore_through if kind.depth_mm is None else names.bore,
        LayerRole.TEXT: names.text,
    }[kind.role]
    name = template.replace("{depth}", shown_number(kind.depth_mm or 0.0))
    name = name.replace("{diameter}", shown_number(kind.diameter_mm or 0.0))
    return name + names.back_suffix if kind.face is Face.DOWN else name


def _refuse_unfit_names(layers: Sequence[Layer]) -> None:
    faults: list[str] = []
    seen: dict[str, Layer] = {}
    for layer in layers:
        if not PORTABLE_NAME.fullmatch(layer.name):
            faults.append(f"'{layer.name}' holds other than letters, digits, '_' and '-'")
        if len(layer.name) > LONGEST_LAYER_NAME:
            faults.append(f"'{layer.name}' is longer than {LONGEST_LAYER_NAME} characters")
        # Readers of DXF take names that differ only in case for one.
        first = seen.setdefault(layer.name.casefold(), layer)
        if first is not layer:
            faults.append(f"'{layer.name}' is used for {_spoken(first)} and for {_spoken(layer)}")
    if faults:
        raise LayerNameFault(tuple(faults))


def _spoken(layer: Layer) -> str:
    words = [str(layer.role)]
    if layer.diameter_mm is not None:
        words.append(f"diameter {layer.diameter_mm!r} mm")
    if layer.role in (LayerRole.GROOVE, LayerRole.BORE):
        words.append("through" if layer.depth_mm is None else f"depth {layer.depth_mm!r} mm")
    words.append(f"face {layer.face}")
    return " ".join(words)
