"""Legs under the overhang of a deck, each with four screws up into it."""

from __future__ import annotations

from parametric.geometry.space import Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Screwed
from parametric.shapes.board import Board
from parametric.shapes.members import Leg
from parametric.stock.construction import Construction


def leg(name: str, foot: Point, deck: Board, construction: Construction) -> Assembly:
    """Return a leg standing at `foot` with the four screws of its plate into `deck`."""
    hardware = construction.leg
    member = Leg(
        name=name,
        unit=name.split("/", maxsplit=1)[0],
        description="leg",
        hardware=hardware,
        foot=foot,
    )
    half = hardware.hole_spacing_mm / 2
    under_plate = foot.z + hardware.height_mm - hardware.plate_thickness_mm
    return Assembly(
        members=(member,),
        joints=tuple(
            Screwed(
                screw=hardware.screw,
                head=Point(foot.x + dx, foot.y + dy, under_plate),
                direction=Direction.Z_PLUS,
                through=name,
                into=deck.name,
                made_in=construction.legs_made_in,
            )
            for dx in (-half, half)
            for dy in (-half, half)
        ),
    )
