"""A unit as a rigid body: its weight, what it stands on, and where loads are set on it."""

from __future__ import annotations

from dataclasses import dataclass

from parametric.findings.deck_strength import decks_of
from parametric.geometry.space import Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.standing import PLAN, rim, stands_on
from parametric.shapes.board import Board, Surface
from parametric.shapes.mass import centre_of_mass, total_kg
from parametric.shapes.members import Member
from parametric.strength.anchorage import Contact, Load
from parametric.strength.board_rules import PAD_MM
from parametric.strength.loads import STANDARD_GRAVITY, Loads


@dataclass(frozen=True, slots=True, kw_only=True)
class RigidUnit:
    """All parts of a unit. `top` bounds its decks, or all of it where it has none; `surfaces` are
    what these are for.
    """

    parts: tuple[Board | Member, ...]
    top: Box
    surfaces: frozenset[Surface | None]
    stands: tuple[Contact, ...]

    @property
    def weight(self) -> Load:
        """Its weight, acting at its centre of mass."""
        force_n = STANDARD_GRAVITY * total_kg(self.parts)
        return Load(force_n, centre_of_mass(self.parts), Direction.Z_MINUS)

    @property
    def is_seat(self) -> bool:
        """Whether anything of it is sat or lain on."""
        return bool(self.surfaces - {Surface.LEANING})

    def load_n(self, loads: Loads) -> tuple[float, str]:
        """Return the highest load that may stand anywhere on its top, and where that is from; what
        has no decks is taken to be sat on.
        """
        return max(loads.anywhere_on(surface) for surface in self.surfaces or {None})

    def sat_on(self, force_n: float) -> list[Load]:
        """Return a load down on a pad in each corner of the top, one for each."""
        box = self.top
        for axis in PLAN:
            inset = min(PAD_MM / 2, box.size(axis) / 2)
            for sign in (-1, 1):
                box = box.grown(Direction((axis, sign)), -inset)
        return [Load(force_n, at, Direction.Z_MINUS) for at in box.corners(Direction.Z_PLUS)]

    def pulled(self, force_n: float, way: Direction) -> list[Load]:
        """Return a load that way at each corner of the top, one for each."""
        return [Load(force_n, at, way) for at in self.top.corners(Direction.Z_PLUS)]


def rigid_unit(assembly: Assembly, unit: str) -> RigidUnit:
    """Return the unit called `unit`."""
    parts = tuple(part for part in (*assembly.boards, *assembly.members) if part.unit == unit)
    decks = [deck for deck in decks_of(assembly) if deck.unit == unit]
    stands = stands_on(assembly, [part.name for part in parts], under_load=True)
    return RigidUnit(
        parts=parts,
        top=rim([part.box for part in decks or parts]),
        surfaces=frozenset(deck.surface for deck in decks),
        stands=tuple(
            Contact(at, Direction.Z_PLUS) for box in stands for at in box.corners(Direction.Z_PLUS)
        ),
    )


def against(box: Box, side: Direction) -> list[Contact]:
    """Return the contacts of a box with what stands at one of its sides and only pushes."""
    points: list[Point] = box.corners(side)
    return [Contact(at, side.opposite) for at in points]
