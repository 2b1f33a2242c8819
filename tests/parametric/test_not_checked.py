"""What no check looks at: each line comes with its joint or part and goes with it."""

from collections.abc import Callable
from dataclasses import fields, replace

import pytest

from parametric.findings.not_checked import not_checked
from parametric.geometry.hand import Hand
from parametric.geometry.space import Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.joints import FixedToWall, Joint, Passing, Screwed, Seated, parts_of
from parametric.primitives.decked_box import DeckHold
from parametric.sets.room_set import RoomSet, build_set
from parametric.shapes.board import Board
from parametric.shapes.members import Leg, Member
from tests.example_set import CONSTRUCTION, NO_10_WALL, ROUTING, TRIM_MM, set_sizes
from tests.row import Row

WHOLE = 44.0  # inches: a bed that a sheet of 49 in holds in one piece; the example's 60 are split
Change = Callable[[RoomSet], RoomSet]


def built(sizes: Row, hand: Hand = Hand.RIGHT) -> RoomSet:
    return build_set(sizes, hand, CONSTRUCTION, ROUTING, TRIM_MM)


def wheres(*sets: RoomSet) -> dict[str, str]:
    """Where the lines are, by what they are about."""
    lines = not_checked(sets)
    found = {line.what: line.where for line in lines}
    assert len(found) == len(lines)
    return found


def where(key: str, *sets: RoomSet) -> str:
    """Where the line is that has these words; blank if there is none."""
    lines = [each for what, each in wheres(*sets).items() if key in what]
    assert len(lines) < 2
    return lines[0] if lines else ""


def with_joints(changed: Callable[[Joint, Assembly], Joint | None]) -> Change:
    """Change or drop joints."""

    def change(room_set: RoomSet) -> RoomSet:
        assembly = room_set.assembly
        joints = (changed(joint, assembly) for joint in assembly.joints)
        kept = tuple(joint for joint in joints if joint is not None)
        return replace(room_set, assembly=replace(assembly, joints=kept))

    return change


def without(kind: type) -> Change:
    return with_joints(lambda joint, _: None if isinstance(joint, kind) else joint)


def other_sizes(**units: object) -> Change:
    return lambda room_set: built(replace(room_set.sizes, **units), room_set.hand)


def set_down(room_set: RoomSet) -> RoomSet:
    """The bed with its deck screwed on before it is set down: no driver gets at its wall side."""
    return built(set_sizes(deck_held=DeckHold.SCREWED), room_set.hand)


def screwed_to_wall(room_set: RoomSet) -> RoomSet:
    fixing = FixedToWall(
        screw=NO_10_WALL,
        head=Point(0.0, 0.0, 100.0),
        direction=Direction.Y_PLUS,
        through="bed/head panel",
    )
    assembly = room_set.assembly
    return replace(room_set, assembly=replace(assembly, joints=(*assembly.joints, fixing)))


def raised(room_set: RoomSet) -> RoomSet:
    """All of it a hand's breadth above the floor."""

    def up(part: Board | Member) -> Board | Member:
        if isinstance(part, Leg):
            return replace(part, foot=part.foot.along(Direction.Z_PLUS, 100.0))
        low, high = (at.along(Direction.Z_PLUS, 100.0) for at in (part.box.low, part.box.high))
        return replace(part, box=replace(part.box, low=low, high=high))

    assembly = room_set.assembly
    lifted = replace(
        assembly,
        boards=tuple(map(up, assembly.boards)),
        members=tuple(map(up, assembly.members)),
    )
    return replace(room_set, assembly=lifted)


def parted(room_set: RoomSet) -> RoomSet:
    """The first piece of the bed's deck away from the second."""
    assembly = room_set.assembly
    boards = tuple(
        replace(board, box=board.box.grown(Direction.Y_MINUS, -2.0).grown(Direction.Y_PLUS, -2.0))
        if board.name == "bed/deck 1"
        else board
        for board in assembly.boards
    )
    return replace(room_set, assembly=replace(assembly, boards=boards))


def of_two_units(room_set: RoomSet) -> RoomSet:
    """The first piece of the bed's deck as another unit's."""
    assembly = room_set.assembly
    boards = tuple(
        replace(board, unit="bench") if board.name == "bed/deck 1" else board
        for board in assembly.boards
    )
    return replace(room_set, assembly=replace(assembly, boards=boards))


def legless(room_set: RoomSet) -> RoomSet:
    assembly = room_set.assembly
    legs = {leg.name for leg in assembly.legs}
    return replace(
        room_set,
        assembly=replace(
            assembly,
            members=tuple(each for each in assembly.members if each.name not in legs),
            joints=tuple(
                joint
                for joint in assembly.joints
                if not (isinstance(joint, Screwed) and joint.through in legs)
                and not (isinstance(joint, Seated) and legs.issuperset(joint.on))
            ),
        ),
    )


def on_level_boards(joint: Joint, assembly: Assembly) -> Joint:
    """Decks that rest on nothing but other decks."""
    if isinstance(joint, Seated) and joint.top.startswith("bed/"):
        return replace(joint, on=("bench/deck",))
    return joint


def on_nothing(joint: Joint, _: Assembly) -> Joint:
    """The bench's deck, of which nobody says what carries it."""
    bench = isinstance(joint, Seated) and joint.top.startswith("bench/")
    return replace(joint, on=()) if bench else joint


def no_cleat_in_bed(joint: Joint, assembly: Assembly) -> Joint | None:
    cleats = {cleat.name for cleat in assembly.cleats}
    in_bed = isinstance(joint, Screwed) and joint.into.startswith("bed/")
    return None if in_bed and not cleats.isdisjoint(parts_of(joint)) else joint


def cleat_to_cleat(joint: Joint, assembly: Assembly) -> Joint:
    """The bed's cleats screwed to one of them, which is solid wood."""
    kept = no_cleat_in_bed(joint, assembly)
    if kept is not None:
        return kept
    return replace(joint, through="bed/upright cleat 2", into="bed/upright cleat 1")


def both_changes(first: Change, second: Change) -> Change:
    return lambda room_set: second(first(room_set))


NOT_SEATED = without(Seated)
NO_ANGLE = without(Passing)
RESTING_LEVEL = with_joints(on_level_boards)

CASES: list[tuple[str, str, Change, str]] = [
    # Words of the line, its places in the example, a change, and its places after that.
    ("pushes sideways", "bed", screwed_to_wall, ""),
    ("pushes sideways", "bed", without(FixedToWall), "bench, bed"),
    ("pushes sideways", "bed", raised, ""),
    ("pushes sideways", "bed", NOT_SEATED, ""),
    ("out of square", "bench, bed", RESTING_LEVEL, "bench"),
    ("out of square", "bench, bed", NOT_SEATED, ""),
    ("hung panels", "wall panel", other_sizes(wall_panel=None), ""),
    ("split deck", "bed", lambda _: built(set_sizes(bed_width=WHOLE)), ""),
    ("split deck", "bed", parted, ""),
    ("split deck", "bed", of_two_units, ""),
    ("table on a steel angle", "bedside table", other_sizes(table=None), ""),
    ("table on a steel angle", "bedside table", with_joints(on_nothing), "bedside table"),
    ("twist of a steel angle", "tie/steel angle", NO_ANGLE, ""),
    ("screws that hold cleats", "bench, bed", with_joints(no_cleat_in_bed), "bench"),
    ("screws that hold cleats", "bench, bed", with_joints(cleat_to_cleat), "bench"),
    ("screws that hold cleats", "bench, bed", without(Screwed), ""),
    ("buckling", "bench, bed", NOT_SEATED, "bench, bed"),
    ("buckling", "bench, bed", NO_ANGLE, "bench, bed"),
    ("buckling", "bench, bed", both_changes(NO_ANGLE, RESTING_LEVEL), "bench"),
    ("buckling", "bench, bed", both_changes(NO_ANGLE, NOT_SEATED), ""),
    ("knock from the side on a leg", "bed", legless, ""),
    ("repeated many times", "bench, bed", NOT_SEATED, ""),
    ("the wall itself", "bench, bedside table, wall panel", without(FixedToWall), ""),
    (
        "the wall itself",
        "bench, bedside table, wall panel",
        other_sizes(wall_panel=None),
        "bench, bedside table",
    ),
    ("the floor itself", "bench, bed", raised, ""),
    ("keep a box where it was set", "bed", without(FixedToWall), ""),
    ("keep a box where it was set", "bed", set_down, ""),
]


@pytest.mark.parametrize(("key", "places", "change", "after"), CASES)
def test_a_line_comes_and_goes_with_what_it_is_about(
    key: str, places: str, change: Change, after: str
) -> None:
    example = built(set_sizes())
    assert where(key, example) == f"example, right hand: {places}"
    assert where(key, change(example)) == (f"example, right hand: {after}" if after else "")


def test_every_line_has_a_case() -> None:
    lines = not_checked([built(set_sizes())])
    for line in lines:
        assert sum(key in line.what for key in {case[0] for case in CASES}) == 1, line.what
        assert line.why


def test_both_hands_are_said_once() -> None:
    right, left = (built(set_sizes(), hand) for hand in Hand)
    one = wheres(right)
    both = wheres(left, right)
    assert both == {
        what: place.replace("example, right hand", "example, both hands")
        for what, place in one.items()
    }
    assert wheres(left)["what the floor itself carries"] == "example, left hand: bench, bed"


def test_sets_alike_stand_together_and_others_apart() -> None:
    whole, narrow = set_sizes(), set_sizes(bed_width=WHOLE)
    sets = [
        *(built(replace(whole, name="a"), hand) for hand in Hand),
        *(built(replace(narrow, name="b"), hand) for hand in Hand),
        built(replace(whole, name="c")),
        built(replace(whole, name="d", bench=None, table=None, angle=None)),
    ]
    assert where("hung panels", *sets) == (
        "a, b, both hands: wall panel; c, d, right hand: wall panel"
    )
    assert where("split deck", *sets) == "a, both hands: bed; c, d, right hand: bed"
    assert where("out of square", *sets) == (
        "a, b, both hands: bench, bed; c, right hand: bench, bed; d, right hand: bed"
    )


def test_lines_are_read_off_joints_and_parts_whatever_units_are_called() -> None:
    example = built(set_sizes())
    names = {"bench": "u1", "bedside table": "u2", "bed": "u3", "wall panel": "u4", "tie": "u5"}

    def renamed(value: object) -> object:
        if isinstance(value, tuple) and type(value) is tuple:
            return tuple(map(renamed, value))
        if not isinstance(value, str):
            return value
        unit, slash, rest = value.partition("/")
        return f"{names.get(unit, unit)}{slash}{rest}"

    def of_part(part: Board | Member) -> Board | Member:
        return replace(part, name=renamed(part.name), unit=renamed(part.unit))

    def of_joint(joint: Joint) -> Joint:
        values = {each.name: getattr(joint, each.name) for each in fields(joint)}
        return replace(joint, **{name: renamed(value) for name, value in values.items()})

    assembly = Assembly(
        boards=tuple(map(of_part, example.assembly.boards)),
        members=tuple(map(of_part, example.assembly.members)),
        joints=tuple(map(of_joint, example.assembly.joints)),
    )
    head = "example, right hand: "
    assert wheres(replace(example, assembly=assembly)) == {
        what: head + ", ".join(str(renamed(each)) for each in place.removeprefix(head).split(", "))
        for what, place in wheres(example).items()
    }


def test_without_sets_there_is_nothing_to_check() -> None:
    assert not_checked([]) == ()
