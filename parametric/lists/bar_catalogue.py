"""Merging the cleats and steel angles of all sets into the linear cut list."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import partial

from parametric.geometry.hand import Hand
from parametric.geometry.space import Direction
from parametric.lists.cut_list import BarHole, BarPart, part_hand
from parametric.shapes.features import Feature, Hole
from parametric.shapes.laid_panel import LaidPanel
from parametric.shapes.members import Cleat, SteelAngle
from parametric.shapes.panel import FlatPanel
from parametric.shapes.same_panel import Freedom, matched, near, orientations, same_panel
from parametric.stock.origin import Origin

WIDE_FACE = "wide face"
NARROW_FACE = "narrow face"
FLAT_LEG = "flat leg"
NOISE_DIGITS = 6  # float noise ends well below a micron


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadCleat:
    """A cleat as it was read back from its solid, lying on its wide face."""

    cleat: Cleat
    laid: LaidPanel
    volume_mm3: float


@dataclass(slots=True)
class _Line:
    """A bar while it is being gathered."""

    description: str
    material: str
    material_name: str
    profile: str
    section_mm: tuple[float, float]
    length_mm: float
    stock_length_mm: float
    kerf_mm: float | None
    holes: tuple[BarHole, ...]
    mass_kg: float
    laid: LaidPanel | None
    stock_origin: Origin | None
    units: list[str] = field(default_factory=list)
    hands: set[Hand] = field(default_factory=set)
    quantity: int = 0


class BarCatalogue:
    """Collects cleats and steel angles of one set after another."""

    def __init__(self) -> None:
        self._lines: list[_Line] = []
        self._numbers: dict[tuple[str, Hand, str], str] = {}

    def add_cleats(
        self, set_name: str, hand: Hand, cleats: Iterable[ReadCleat], rooms: int
    ) -> None:
        """Add the cleats of a set that `rooms` rooms have."""
        for read in cleats:
            index = self._find_cleat(read)
            self._count(index, set_name, hand, read.cleat.name, read.cleat.unit, rooms)

    def add_angle(
        self,
        set_name: str,
        hand: Hand,
        angle: SteelAngle,
        features: Iterable[Feature],
        rooms: int,
    ) -> None:
        """Add a steel angle with its features, given in the room frame."""
        index = self._find_angle(angle, flat_leg_holes(angle, features))
        self._count(index, set_name, hand, angle.name, angle.unit, rooms)

    def bars(self) -> tuple[BarPart, ...]:
        """Return the linear cut list in the order of its numbers."""
        return tuple(
            BarPart(
                number=bar_number(index),
                description=line.description,
                units=tuple(line.units),
                hand=part_hand(line.hands, partial(is_own_mirror_image, line)),
                material=line.material,
                material_name=line.material_name,
                profile=line.profile,
                section_mm=line.section_mm,
                length_mm=line.length_mm,
                stock_length_mm=line.stock_length_mm,
                kerf_mm=line.kerf_mm,
                holes=line.holes,
                quantity=line.quantity,
                mass_kg=line.mass_kg,
                stock_origin=line.stock_origin,
            )
            for index, line in enumerate(self._lines)
        )

    def numbers(self) -> dict[tuple[str, Hand, str], str]:
        """Return the number of each bar by set, hand and name."""
        return dict(self._numbers)

    def _count(
        self, index: int, set_name: str, hand: Hand, name: str, unit: str, rooms: int
    ) -> None:
        line = self._lines[index]
        line.quantity += rooms
        line.hands.add(hand)
        if unit not in line.units:
            line.units.append(unit)
        self._numbers[set_name, hand, name] = bar_number(index)

    def _find_cleat(self, read: ReadCleat) -> int:
        bar = read.cleat.bar
        for index, line in enumerate(self._lines):
            if line.laid is None or line.material != bar.key:
                continue
            turns = orientations(read.laid, Freedom.TURNING_OVER)
            if any(same_panel(line.laid.panel, turned.panel) for turned in turns):
                return index
        self._lines.append(
            _Line(
                description=read.cleat.description,
                material=bar.key,
                material_name=bar.description,
                profile=f"{bar.thickness_mm:g} x {bar.width_mm:g} mm",
                section_mm=(bar.thickness_mm, bar.width_mm),
                length_mm=read.laid.panel.length_mm,
                stock_length_mm=bar.stock_length_mm,
                kerf_mm=bar.kerf_mm,
                holes=cleat_holes(read.laid.panel),
                mass_kg=read.volume_mm3 * 1e-9 * bar.density_kg_m3,
                laid=read.laid,
                stock_origin=bar.stock_origin,
            )
        )
        return len(self._lines) - 1

    def _find_angle(self, angle: SteelAngle, holes: tuple[BarHole, ...]) -> int:
        length_mm = angle.box.size(angle.along)
        for index, line in enumerate(self._lines):
            if (
                line.laid is None
                and line.material == angle.section.key
                and near(line.length_mm, length_mm)
                and matched(line.holes, holes, same_hole)
            ):
                return index
        section = angle.section
        self._lines.append(
            _Line(
                description=angle.description,
                material=section.key,
                material_name=section.description,
                profile=f"{section.leg_mm:g} x {section.leg_mm:g} x {section.thickness_mm:g} mm",
                section_mm=(section.leg_mm, section.thickness_mm),
                length_mm=length_mm,
                stock_length_mm=section.stock_length_mm,
                kerf_mm=section.kerf_mm,
                holes=holes,
                mass_kg=length_mm / 1000 * section.mass_kg_m,
                laid=None,
                stock_origin=section.stock_origin,
            )
        )
        return len(self._lines) - 1


def bar_number(index: int) -> str:
    """Return the number of the bar at `index`, from L001."""
    return f"L{index + 1:03d}"


def is_own_mirror_image(line: _Line) -> bool:
    """Return whether the bar serves either hand."""
    if line.laid is not None:
        mirror = line.laid.panel.mirror_image()
        turns = orientations(line.laid, Freedom.TURNING_OVER)
        return any(same_panel(mirror, turned.panel) for turned in turns)
    end_for_end = tuple(
        BarHole(
            face=hole.face,
            from_end_mm=line.length_mm - hole.from_end_mm,
            across_mm=hole.across_mm,
            diameter_mm=hole.diameter_mm,
        )
        for hole in line.holes
    )
    return matched(line.holes, end_for_end, same_hole)


def same_hole(a: BarHole, b: BarHole) -> bool:
    """Return whether two holes coincide."""
    return (
        a.face == b.face
        and near(a.from_end_mm, b.from_end_mm)
        and near(a.across_mm, b.across_mm)
        and near(a.diameter_mm, b.diameter_mm)
    )


def cleat_holes(panel: FlatPanel) -> tuple[BarHole, ...]:
    """Return the holes of a cleat lying on its wide face, left to right."""
    holes = [
        BarHole(face=WIDE_FACE, from_end_mm=b.x, across_mm=b.y, diameter_mm=b.diameter_mm)
        for b in panel.bores
    ]
    holes += [
        BarHole(face=NARROW_FACE, from_end_mm=b.x, across_mm=b.z_mm, diameter_mm=b.diameter_mm)
        for b in panel.edge_bores
    ]
    return in_order(holes)


def flat_leg_holes(angle: SteelAngle, features: Iterable[Feature]) -> tuple[BarHole, ...]:
    """Return the holes of the flat leg: from the left end seen from the room, facing the wall the
    upright leg is next to, and from the heel.
    """
    heel = angle.box.side(angle.upright)
    # Left, for someone who looks towards the upright leg with the flat leg on top.
    left = angle.box.low[angle.along]
    if angle.upright in (Direction.Y_MINUS, Direction.X_PLUS):
        left = angle.box.high[angle.along]
    return in_order(
        BarHole(
            face=FLAT_LEG,
            from_end_mm=round(abs(feature.start[angle.along] - left), NOISE_DIGITS),
            across_mm=round(abs(feature.start[angle.upright.axis] - heel), NOISE_DIGITS),
            diameter_mm=feature.diameter_mm,
        )
        for feature in features
        if isinstance(feature, Hole)
    )


def in_order(holes: Iterable[BarHole]) -> tuple[BarHole, ...]:
    """Return the holes face by face, from the left end."""
    return tuple(
        sorted(holes, key=lambda hole: (hole.face, round(hole.from_end_mm, 3), hole.across_mm))
    )
