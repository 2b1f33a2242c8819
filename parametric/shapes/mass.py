"""Mass and centre of mass of parts, each as a full box: cuts, holes and bands stay in."""

from __future__ import annotations

import math
from collections.abc import Iterable

from parametric.geometry.space import Axis, Box, Point
from parametric.shapes.board import Board
from parametric.shapes.members import Cleat, Leg, Member, SteelAngle
from parametric.stock.hardware import STEEL_DENSITY_KG_M3

TUBE_WALL_MM = 2.0  # of a leg's tube whose wall nobody knows; common practice, no source


def mass_kg(part: Board | Member) -> float:
    """Return the mass of a board, cleat, steel angle, leg or wall plate."""
    match part:
        case Board():
            return _volume_m3(part.box) * part.material.density_kg_m3
        case Cleat():
            return _volume_m3(part.box) * part.bar.density_kg_m3
        case SteelAngle():
            return part.box.size(part.along) / 1000 * part.section.mass_kg_m
        case Leg():
            tube_mm2 = math.pi * part.hardware.tube_diameter_mm * part.hardware.height_mm
            plate_mm3 = part.hardware.plate_mm**2 * part.hardware.plate_thickness_mm
            wall_mm = part.hardware.tube_wall_mm or TUBE_WALL_MM
            return (tube_mm2 * wall_mm + plate_mm3) * 1e-9 * STEEL_DENSITY_KG_M3
        case _:
            folded_mm = part.hardware.height_mm + part.hardware.lip_mm
            folded_mm3 = part.hardware.length_mm * folded_mm * part.hardware.thickness_mm
            return folded_mm3 * 1e-9 * STEEL_DENSITY_KG_M3


def total_kg(parts: Iterable[Board | Member]) -> float:
    """Return the mass of all the parts."""
    return math.fsum(map(mass_kg, parts))


def centre_of_mass(parts: Iterable[Board | Member]) -> Point:
    """Return the common centre of mass, each part's taken in the middle of its box.

    Raises:
        ZeroDivisionError: there are no parts.
    """
    listed = [(mass_kg(part), part.box.centre) for part in parts]
    total = math.fsum(mass for mass, _ in listed)
    return Point(*(math.fsum(mass * at[axis] for mass, at in listed) / total for axis in Axis))


def _volume_m3(box: Box) -> float:
    return math.prod(box.size(axis) for axis in Axis) * 1e-9
