"""Whatever a set is composed of, it is built in both hands alike, or refused where it can be put
right; nothing of it goes unseen.
"""

from __future__ import annotations

from collections import Counter

from hypothesis import HealthCheck, Phase, assume, given, settings

from parametric.findings.check_set import check_set
from parametric.findings.check_strength import check_strength
from parametric.findings.deck_plate import Fineness
from parametric.findings.finding import Finding
from parametric.geometry.hand import Hand
from parametric.joints.joints import FixedToWall, made_in, parts_of
from parametric.joints.machining import machining
from parametric.primitives.deck import DeckTooLarge
from parametric.sets.composition import SetSizes, keys_of
from parametric.sets.room_set import RoomSet, build_set
from parametric.sets.soundness import unsound
from parametric.shapes.mass import total_kg
from parametric.steps.order import steps_of
from parametric.steps.step_findings import step_findings
from parametric.stock.made_in import MadeIn
from parametric.strength.loads import Loads
from parametric.units.known_units import KNOWN_UNITS
from tests.compositions import BUILT_FROM, compositions
from tests.example_set import ROUTING, TRIM_MM

OFTEN = settings(
    max_examples=25,
    deadline=None,
    database=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)
LOADS = Loads()


def both_hands(sizes: SetSizes) -> dict[Hand, RoomSet]:
    """The set in both hands; the examples that no stock holds are left out."""
    try:
        return {hand: build_set(sizes, hand, BUILT_FROM, ROUTING, TRIM_MM) for hand in Hand}
    except DeckTooLarge:
        assume(False)
        raise


def all_findings(room_set: RoomSet) -> tuple[Finding, ...]:
    """Every check that needs no solids."""
    assembly = room_set.assembly
    worked = machining(assembly, ROUTING)
    return (
        *check_set(room_set, worked, ROUTING, TRIM_MM),
        *step_findings("set", assembly, worked, room_set.outwards),
        *check_strength("set", assembly, LOADS, Fineness.FAST),
    )


@OFTEN
@given(compositions())
def test_a_composition_is_built_or_refused_where_it_can_be_put_right(sizes: SetSizes) -> None:
    refused = list(unsound(sizes, BUILT_FROM))
    for each in refused:
        assert each.keys == () or each.keys[0] in {
            *("head_wall", "side_wall", "foot_wall", "far_wall", "free", "ties", "hung"),
            *("base_height", "room_depth", "room_width"),
        }
        if len(each.keys) > 1:
            assert keys_of(sizes, each.keys[1])[:2] == each.keys[:2]
    assume(not refused)
    sets = both_hands(sizes)
    right, left = sets[Hand.RIGHT].assembly, sets[Hand.LEFT].assembly
    named = {unit.name for unit in sizes.units()}
    assert named <= {part.unit for part in (*right.boards, *right.members)}
    assert [board.name for board in right.boards] == [board.name for board in left.boards]
    assert abs(total_kg(right.boards) - total_kg(left.boards)) < 1e-9
    for one, other in zip(right.boards, left.boards, strict=True):
        assert [one.box.size(axis) for axis in (0, 1, 2)] == [
            other.box.size(axis) for axis in (0, 1, 2)
        ]


@OFTEN
@given(compositions())
def test_nothing_of_a_composition_goes_unseen(sizes: SetSizes) -> None:
    """Each joint that the shop does not make is made in one step, each part comes in in one, each
    deck and each wall fixing is checked for what it bears, in both hands alike, and no joint is
    without a rule.
    """
    assume(not list(unsound(sizes, BUILT_FROM)))
    told = {}
    for hand, room_set in both_hands(sizes).items():
        assembly, found = room_set.assembly, all_findings(room_set)
        assert not [each for each in found if each.code == "no-rule"]
        orders = [each for each in found if each.code == "step-order"]
        assert [each.measured for each in orders] == [0.0]
        steps = steps_of(assembly, str)
        made = Counter(at for step in steps for at in step.joints)
        joints = enumerate(assembly.joints)
        assert made == Counter(at for at, joint in joints if made_in(joint) is not MadeIn.SHOP)
        came = Counter(part for step in steps for part in step.parts)
        assert came == Counter(part.name for part in (*assembly.boards, *assembly.members))
        seen = {each.where.removeprefix("set: ") for each in found}
        for board in assembly.boards:
            assert board.surface is None or board.name in seen
        for joint in assembly.joints:
            if isinstance(joint, FixedToWall):
                (name,) = parts_of(joint)
                assert seen & {name, assembly.part(name).unit, f"{assembly.part(name).unit}/panel"}
        told[hand] = {
            (each.code, each.where.split(": ", maxsplit=1)[-1], each.severity) for each in found
        }
    assert told[Hand.RIGHT] == told[Hand.LEFT]


def test_the_compositions_reach_all_families_and_walls() -> None:
    families: set[str] = set()
    walls: set[str] = set()
    counts: set[int] = set()
    ends: set[str] = set()

    @settings(max_examples=150, database=None, derandomize=True, phases=[Phase.generate])
    @given(compositions())
    def look(sizes: SetSizes) -> None:
        if list(unsound(sizes, BUILT_FROM)):
            ends.add("refused")
            return
        ends.add("built")
        units = list(sizes.units())
        counts.add(len(units))
        families.update(unit.family for unit in units)
        walls.update(run.wall.value for run in sizes.runs)

    look()
    assert families == set(KNOWN_UNITS)
    assert walls == {"head wall", "side wall", "foot wall", "far wall"}
    assert ends == {"built", "refused"}
    assert len(counts) >= 4
