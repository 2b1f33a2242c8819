"""Whether the legs of a bed bear their deck."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from parametric.findings.borne_by_board import pull_borne
from parametric.findings.finding import Basis, Finding
from parametric.findings.measure import NEAR_LIMIT, at_least, borne
from parametric.geometry.space import Axis
from parametric.joints.assembly import Assembly
from parametric.joints.joints import Passing, Screwed, Seated
from parametric.joints.machining import penetration_mm
from parametric.shapes.mass import total_kg
from parametric.shapes.members import Leg
from parametric.stock.amounts import NEWTONS, Words, force, stress
from parametric.strength.board_screws import ECKELMAN, withdrawal_n
from parametric.strength.loads import (
    FLOOR_FRICTION,
    STANDARD_GRAVITY,
    Loads,
)
from parametric.strength.steel_angle import SAFETY
from parametric.strength.tube_leg import (
    AISC_B4,
    AISC_E3,
    TUBE_YIELD_N_MM2,
    allowable_load_n,
    least_wall_mm,
)

_YIELD: Words = ("yield strength ", stress(TUBE_YIELD_N_MM2))


def leg_strength_findings(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield the load on a leg of each deck that stands on legs, as if they carried it alone, and
    whether the wall of its tube is thick enough for the formula; for legs of a unit that nothing
    ties, what their screws bear when it is dragged.
    """
    yield from _dragged(where, assembly, loads)
    legs: dict[str, list[Leg]] = defaultdict(list)
    for joint in assembly.joints:
        if isinstance(joint, Seated):
            legs[joint.top] += [leg for leg in assembly.legs if leg.name in joint.on]
    for name, under in legs.items():
        if not under:
            continue
        deck = assembly.board(name)
        area_m2 = deck.box.size(Axis.X) * deck.box.size(Axis.Y) * 1e-6
        anywhere_n, source = loads.anywhere_on(deck.surface)
        load_n = anywhere_n + loads.spread_n_m2 * area_m2 / len(under)
        hardware = under[0].hardware
        basis = Basis(
            "a column, its head free to sway",
            (
                f"the deck on its {len(under)} legs alone, a seat load over one of them",
                _YIELD,
                "foot and plate held upright by floor and deck; knocks from the side left out",
            ),
            SAFETY,
        )
        wall_mm = hardware.tube_wall_mm
        yield borne(
            code="leg-load",
            where=f"{where}: legs under {name}",
            what="load of",
            under=" on a leg",
            measured=load_n,
            allowed=None
            if wall_mm is None
            else allowable_load_n(hardware.tube_diameter_mm, wall_mm, hardware.height_mm),
            missing=f"{hardware.key} has no tube_wall in its library file",
            unit=NEWTONS,
            source=f"{AISC_E3}; load: {source}",
            advice="use more legs, or stronger ones",
            basis=basis,
            at=under[0].foot,
        )
        if wall_mm is not None:
            yield _wall(f"{where}: legs under {name}", under[0], wall_mm)


def _wall(place: str, leg: Leg, wall_mm: float) -> Finding:
    """Return whether the wall of a leg's tube is thick enough for the formula of its load."""
    least_mm = least_wall_mm(leg.hardware.tube_diameter_mm)
    return at_least(
        code="leg-wall",
        where=place,
        what="tube wall of a leg",
        measured=wall_mm,
        warn_below=least_mm / NEAR_LIMIT,
        fail_below=least_mm,
        source=AISC_B4,
        advice="use a tube with a thicker wall, or a thinner tube",
        basis=Basis(
            "the least wall that yields before it dents, D/t of 0.11 E/Fy",
            (_YIELD,),
        ),
        at=leg.foot,
    )


def _dragged(where: str, assembly: Assembly, loads: Loads) -> Iterator[Finding]:
    """Yield for each unit with legs that nothing ties the pull on a screw of a leg's plate when the
    empty unit is dragged over the floor.
    """
    tied = _tied(assembly)
    for unit in dict.fromkeys(leg.unit for leg in assembly.legs):
        if unit in tied:
            continue
        legs = [leg for leg in assembly.legs if leg.unit == unit]
        parts = [part for part in (*assembly.boards, *assembly.members) if part.unit == unit]
        side_n = FLOOR_FRICTION * STANDARD_GRAVITY * total_kg(parts) / len(legs)
        hardware = legs[0].hardware
        names = {leg.name for leg in legs}
        deck, bite_mm = min(
            (
                (into, min(penetration_mm(joint, into), into.thickness_mm))
                for joint in assembly.joints
                if isinstance(joint, Screwed) and joint.through in names
                for into in [assembly.board(joint.into)]
            ),
            key=lambda each: each[1],
        )
        tested = None if deck.material.strength is None else deck.material.strength.screw
        diameter_mm = hardware.screw.major_diameter_mm
        yield pull_borne(
            code="leg-side",
            where=f"{where}: legs of {unit}",
            what="pull of",
            under=(
                " on a leg screw when the empty unit is dragged, ",
                force(side_n),
                " at the foot",
            ),
            pull_n=side_n * hardware.height_mm / (2 * hardware.hole_spacing_mm),
            material=deck.material,
            tested_n=None if tested is None else withdrawal_n(tested, diameter_mm, bite_mm),
            missing=f"{deck.material.key} has no screw_face in its library file",
            loads=loads,
            load=f"friction of {FLOOR_FRICTION}, from memory",
            advice="tie it to a wall or to what is fixed to one, or use shorter legs, larger plates"
            " or longer screws",
            method=f"a leg as a lever about its plate, two of four screws pulled, their hold"
            f" {ECKELMAN}",
            taken=("the whole unit on its legs, nobody on it", "a stiff plate"),
            at=legs[0].foot,
        )


def _tied(assembly: Assembly) -> set[str]:
    """Return the units that are screwed to a wall, or share a steel angle with one that is."""
    fixed = {assembly.part(name).unit for name in assembly.held_by_walls()}
    shared: dict[str, set[str]] = defaultdict(set)
    for joint in assembly.joints:
        if isinstance(joint, Passing):
            shared[joint.member].add(assembly.part(joint.through).unit)
    return fixed.union(*(units for units in shared.values() if units & fixed))
