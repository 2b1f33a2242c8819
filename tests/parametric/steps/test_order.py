"""Steps cover the whole set, keep what the joints ask for, and are the same in both hands.

That wall plates come first and panels last is common practice, no source; the rest follows from
the joints.
"""

import math
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings

from parametric.findings.lifting import ONE_PERSON_KG
from parametric.geometry.hand import Hand
from parametric.geometry.space import SAME_MM, Axis, Box, Direction, Point
from parametric.joints.assembly import Assembly
from parametric.joints.groups import butted_to, floating_tops, group_of_part
from parametric.joints.joints import (
    Bonded,
    FixedToWall,
    Hung,
    Passing,
    Screwed,
    Seated,
    made_in,
)
from parametric.kit.count import kit_of
from parametric.kit.supplies import Supplies
from parametric.primitives.deck import DeckTooLarge
from parametric.primitives.decked_box import DeckHold
from parametric.sets.room_set import RoomSet, build_set
from parametric.sets.soundness import unsound
from parametric.shapes.board import Board, Show
from parametric.shapes.mass import total_kg
from parametric.shapes.members import Cleat
from parametric.steps.order import NoOrder, ordered, steps_of
from parametric.steps.portions import steps_of_task
from parametric.steps.step import Step
from parametric.steps.tasks import Kind, Task
from parametric.steps.words import out_of_square_mm
from parametric.stock.amounts import in_words
from parametric.stock.lengths import Units, show_length
from parametric.stock.made_in import MadeIn
from tests.compositions import BUILT_FROM, compositions
from tests.example_set import (
    CONSTRUCTION,
    INCH,
    NO_6_WIDE,
    NO_10_WALL,
    RAW,
    ROUTING,
    TRIM_MM,
    set_sizes,
)
from tests.strategies import set_sizes as random_sizes


def shown(length_mm: float) -> str:
    return show_length(length_mm, Units.INCH)


def told(step: Step) -> list[str]:
    return [in_words(caution, Units.MM) for caution in step.cautions]


def example(hand: Hand = Hand.RIGHT, held: DeckHold | None = None) -> RoomSet:
    return build_set(set_sizes(deck_held=held), hand, CONSTRUCTION, ROUTING, TRIM_MM)


def on_site(assembly: Assembly) -> set[int]:
    """The joints that are not made in the shop."""
    joints = enumerate(assembly.joints)
    return {at for at, joint in joints if made_in(joint) is not MadeIn.SHOP}


def place_of(steps: tuple[Step, ...], part: str) -> int:
    return next(at for at, step in enumerate(steps) if part in step.parts)


def made_at(steps: tuple[Step, ...], joint: int) -> int:
    return next(at for at, step in enumerate(steps) if joint in step.joints)


@settings(max_examples=30)
@given(random_sizes())
def test_every_part_and_every_joint_is_in_one_step(sizes):
    assembly = build_set(sizes, Hand.LEFT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    steps = steps_of(assembly, shown)
    parts = Counter(part for step in steps for part in step.parts)
    joints = Counter(joint for step in steps for joint in step.joints)
    assert set(parts.values()) == set(joints.values()) == {1}
    assert parts.keys() == {part.name for part in (*assembly.boards, *assembly.members)}
    assert joints.keys() == on_site(assembly)
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))


@settings(max_examples=30)
@given(random_sizes())
def test_what_carries_comes_before_what_it_carries(sizes):
    assembly = build_set(sizes, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    steps = steps_of(assembly, shown)
    # An angle slides in under a deck that came with a box it runs into.
    slid = {
        (joint.member, place_of(steps, joint.through))
        for joint in assembly.joints
        if isinstance(joint, Passing)
    }
    for at in on_site(assembly):
        joint, done = assembly.joints[at], made_at(steps, at)
        match joint:
            case Seated() | Bonded():
                top = place_of(steps, joint.top)
                together = {
                    part for step in steps for part in step.again if joint.top in step.again
                }
                for support in joint.on:
                    if (support, top) not in slid and support not in together:
                        assert place_of(steps, support) <= top
            case Passing():
                assert place_of(steps, joint.through) < place_of(steps, joint.member)
            case Hung():
                for plate in joint.plates:
                    assert place_of(steps, plate) < place_of(steps, joint.panel)
            case FixedToWall():
                assert place_of(steps, joint.through) <= done
            case Screwed():
                assert max(place_of(steps, joint.through), place_of(steps, joint.into)) <= done


def test_the_bench_is_fixed_from_inside_before_its_deck_lies_on_it():
    assembly = example().assembly
    steps = steps_of(assembly, shown)
    deck = place_of(steps, "bench/deck")
    for at, joint in enumerate(assembly.joints):
        if isinstance(joint, FixedToWall) and joint.through.startswith("bench/"):
            assert made_at(steps, at) < deck


def test_the_table_is_butted_to_a_deck_that_lies_there_dry():
    """The deck comes before the table, stays while that is set and fixed, and is lifted and glued
    later. Common practice, no source.
    """
    steps = steps_of(example().assembly, shown)
    titles = {step.title: step for step in steps}
    laid = titles["Lay the bench deck dry in its place"]
    table = titles["Set the bedside table in place"]
    glued = titles["Glue down the bench deck"]
    assert laid.number < table.number < glued.number
    assert laid.parts == ("bench/deck",) == glued.again and laid.stays
    assert not laid.joints and not glued.parts and glued.joints
    assert any("bench deck, laid dry on its box" in check for check in table.checks)


@settings(max_examples=30)
@given(compositions())
def test_whatever_is_butted_to_a_deck_that_is_glued_on_finds_it_there(sizes):
    assume(not list(unsound(sizes, BUILT_FROM)))
    try:
        assembly = build_set(sizes, Hand.RIGHT, BUILT_FROM, ROUTING, TRIM_MM).assembly
    except DeckTooLarge:
        assume(False)
    tasks = ordered(assembly)
    came = {part: at for at, task in enumerate(tasks) for part in task.parts}
    laid = [task for task in tasks if task.kind is Kind.LAID]
    for task in laid:
        (deck,) = (assembly.board(name) for name in task.parts)
        glued = next(at for at, other in enumerate(tasks) if other.again == task.parts)
        beside = [
            came[other.name]
            for other in butted_to(assembly, deck)
            if tasks[came[other.name]].kind is Kind.GROUP and abs(other.box.low.z) > SAME_MM
        ]
        assert all(came[deck.name] < at < glued for at in beside)


def test_the_order_of_the_example():
    """The bases, the angle, the table between them; the bed floats until its decks were laid dry,
    then its box is fixed off the wall, and nothing is bonded before that. Common practice, no
    source.
    """
    kinds = [(task.kind, task.about) for task in ordered(example().assembly)]
    assert kinds == [
        (Kind.PLATES, "wall panel"),
        (Kind.GROUP, "bench"),
        (Kind.FIX, "bench"),
        (Kind.GROUP, "bed"),
        (Kind.ANGLE, "tie/steel angle"),
        (Kind.LAID, "bench/deck"),
        (Kind.GROUP, "bedside table"),
        (Kind.FIX, "bedside table"),
        (Kind.DRY, "bed/deck 1"),
        (Kind.DRY, "bed/deck 2"),
        (Kind.FIX, "bed"),
        (Kind.BOND, "bench/deck"),
        (Kind.BOND, "bed/deck 1"),
        (Kind.BOND, "bed/deck 2"),
        (Kind.TIE, "tie/steel angle"),
        (Kind.TIE, "bed/deck 2"),
        (Kind.HUNG, "wall panel/panel"),
        (Kind.FIX, "wall panel/panel"),
    ]


@settings(max_examples=20)
@given(random_sizes())
def test_both_hands_have_the_same_steps_with_mirrored_marks(sizes):
    right, left = (
        steps_of(build_set(sizes, hand, CONSTRUCTION, ROUTING, TRIM_MM).assembly, shown)
        for hand in Hand
    )
    assert [replace(step, marks=()) for step in right] == [replace(step, marks=()) for step in left]
    for one, other in zip(right, left, strict=True):
        assert [mark.what for mark in one.marks] == [mark.what for mark in other.marks]
        for mark, mirrored in zip(one.marks, other.marks, strict=True):
            assert mirrored.end.x == pytest.approx(-mark.end.x)
            assert mirrored.end[1:] == pytest.approx(mark.end[1:])
            assert mirrored.distance_mm == pytest.approx(mark.distance_mm)


@settings(max_examples=20)
@given(random_sizes())
def test_no_step_joins_parts_by_more_than_a_dozen_screws(sizes):
    """A dozen in a step: common practice, no source. One piece's own screws stay together."""
    assembly = build_set(sizes, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    for step in steps_of(assembly, shown):
        joints = [assembly.joints[at] for at in step.joints]
        screws = [joint for joint in joints if isinstance(joint, Screwed)]
        joined = [each for each in screws if step.parts]
        assert len(joined) <= 12 or len({(j.through, j.into) for j in joined}) == 1


@settings(max_examples=20)
@given(random_sizes())
def test_what_comes_again_came_before_and_screws_join_what_is_there(sizes):
    assembly = build_set(sizes, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    came: set[str] = set()
    for step in steps_of(assembly, shown):
        assert came.issuperset(step.again)
        assert came.issuperset(step.beside)
        came.update(step.parts)
        for at in step.joints:
            joint = assembly.joints[at]
            if isinstance(joint, Screwed):
                assert {joint.through, joint.into} <= came
                if step.upside_down:
                    assert {joint.through, joint.into} <= {*step.parts, *step.beside}


def test_the_steps_use_what_the_kit_holds():
    assembly = example().assembly
    used: Counter[str] = Counter()
    for step in steps_of(assembly, shown):
        for at in step.joints:
            joint = assembly.joints[at]
            if isinstance(joint, Screwed | FixedToWall):
                used[joint.screw.key] += 1
    kit = {line.key: line.needed for line in kit_of(assembly, Supplies(), Units.INCH).lines}
    assert used == {key: kit[key] for key in used}


def test_marks_are_heights_and_distances_from_the_corner():
    assembly = example().assembly
    (step,) = (s for s in steps_of(assembly, shown) if "wall plates" in s.title)
    heads = [assembly.joints[at].head for at in step.joints]
    across = sorted(abs(head.x) for head in heads)
    from_corner = [m.distance_mm for m in step.marks if m.what.endswith("from the corner")]
    assert sorted(from_corner) == pytest.approx(across)
    heights = {m.distance_mm for m in step.marks if m.what.endswith("above the floor")}
    assert heights == {heads[0].z}
    assert all(mark.end.y == 0.0 for mark in step.marks), "on the wall, not before it"


@settings(max_examples=20)
@given(random_sizes())
def test_no_mark_is_asked_for_on_a_wall_that_is_covered_by_then(sizes):
    """No part that stands by then, nor one that comes as a whole, lies on the place to mark."""
    assembly = build_set(sizes, Hand.LEFT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    there: list[Box] = []
    for step in steps_of(assembly, shown):
        there += [assembly.part(name).box for name in step.again]
        for mark in step.marks:
            if "above the floor" in mark.what or "plate" in mark.what or "cleat" in mark.what:
                before = mark.end.along(Direction.Y_MINUS, 1.0)
                assert not any(box.contains(before, -SAME_MM) for box in there), mark
        there += [assembly.part(name).box for name in step.parts]


def test_where_boxes_stand_by_hand():
    """From the corner to the near side of what stands: the bed's box at 40 1/8 + 8 in, 64 in out
    from the wall at its foot; the table at 24 1/16; the bench stands in the corner.
    """
    marks = {
        mark.what.partition(":")[0]: mark
        for step in steps_of(example().assembly, shown)
        for mark in step.marks
        if "near side" in mark.what
    }
    assert marks.keys() == {"bed", "bedside table"}
    assert marks["bed"].distance_mm == pytest.approx(48.125 * INCH)
    assert marks["bedside table"].distance_mm == pytest.approx(24.0625 * INCH)
    assert marks["bed"].end.z == 0.0


@pytest.mark.parametrize(
    ("name", "told"), [("back", "back"), ("shelf/back", "back"), ("shelf/rear/back", "back")]
)
def test_marks_call_a_part_by_its_own_name(name: str, told: str) -> None:
    """Two screws at one height, 700 up, 100 and 500 from the corner."""
    back = Board(
        name=name,
        unit="shelf",
        description="back",
        material=RAW,
        box=Box.spanning((50.0, 550.0), (0.0, RAW.thickness_mm), (600.0, 800.0)),
        grain=Axis.X,
        facing=Direction.Y_PLUS,
        show=Show.NONE,
    )
    screws = tuple(
        FixedToWall(
            screw=NO_10_WALL,
            head=Point(x, RAW.thickness_mm, 700.0),
            direction=Direction.Y_MINUS,
            through=name,
        )
        for x in (100.0, 500.0)
    )
    standing, fixing = steps_of(Assembly(boards=(back,), joints=screws), shown)
    assert not standing.marks[1:] and not fixing.marks, "it covers the wall when it is fixed"
    cleat = Cleat(
        name=name,
        unit="shelf",
        description="cleat",
        bar=CONSTRUCTION.cleat,
        box=back.box,
        along=Axis.X,
    )
    (fixing,) = steps_of(Assembly(members=(cleat,), joints=screws), shown)
    assert [(mark.what, mark.distance_mm) for mark in fixing.marks] == [
        (f"{told}: its screws above the floor", 700.0),
        (f"{told}: a screw from the corner", 100.0),
        (f"{told}: a screw from the corner", 500.0),
    ]


def test_who_brings_in_the_steel_angle_is_told_to_mind_hands():
    steps = steps_of(example().assembly, shown)
    minded = [step.title for step in steps if any("out of the notches" in c for c in told(step))]
    assert minded == ["Lay the steel angle into its notches"]


def test_a_deck_on_its_legs_is_as_heavy_laid_dry_as_glued_down():
    """Both times it goes onto its box whole; only a box that is turned over keeps an edge down."""
    steps = steps_of(example().assembly, shown)
    (dry,) = (
        step for step in steps if step.title.startswith("Turn the bed deck 2 over, lay it dry")
    )
    (glued,) = (step for step in steps if step.title == "Glue down the bed deck 2")
    kg = total_kg(map(example().assembly.part, dry.again))
    lifts = [[each for each in told(step) if " to lift" in each] for step in (dry, glued)]
    assert lifts[0] == lifts[1] and f"{kg:.3g} kg to lift: " in lifts[0][0]
    assert dry.people == glued.people > 1


def test_a_heavy_box_takes_more_people_and_says_so():
    """Turned over on one edge, half of it is lifted: 14.4 kg by each at most."""
    assembly = example(held=DeckHold.SCREWED).assembly
    steps = steps_of(assembly, shown)
    bed = next(step for step in steps if "bed/foot panel" in step.again)
    half_kg = total_kg(map(assembly.part, bed.again)) / 2
    assert 2 * ONE_PERSON_KG < half_kg < 3 * ONE_PERSON_KG
    assert bed.people == 3
    assert (
        f"{half_kg:.3g} kg to lift ({2 * half_kg:.3g} kg in all, turned over on one edge): 3"
        f" people, {half_kg / 3:.3g} kg each, or a lifting aid" in told(bed)
    )
    assert bed.title == "Turn the bed over, set it in place"
    # Deck of 60 x 81 in: on one side of its long edge, then on the other.
    boxes = [assembly.part(name).box for name in bed.again]
    wide, long = (
        max(box.high[axis] for box in boxes) - min(box.low[axis] for box in boxes)
        for axis in (Axis.X, Axis.Y)
    )
    floor = f"{show_length(long, Units.MM)} x {show_length(2 * wide, Units.MM)} of floor"
    assert any(floor in caution for caution in told(bed))
    together = steps[bed.number - 2]
    assert together.upside_down and "upside down" in together.title
    plates = steps[0]
    assert plates.people == 1
    assert any("pipes and cables" in caution for caution in told(plates))


@pytest.mark.parametrize(
    ("shares", "people", "words"),
    [
        (1.0, 1, None),
        (1.01, 2, "2 people, 7.3 kg each, or a lifting aid"),
        (2.0, 2, "2 people, 14.4 kg each, or a lifting aid"),
        (4.0, 4, "4 people, 14.4 kg each, or a lifting aid"),
        (4.01, 4, "too much by hand, use a lifting aid"),
    ],
)
def test_how_many_people_lift_a_box(shares: float, people: int, words: str | None) -> None:
    """As many as it takes at 14.4 kg each, 23 x 25/30 x .895 x .9325 x .9 by the lifting equation,
    and four at most: common practice, no source.
    """
    assembly = example(held=DeckHold.SCREWED).assembly
    bed = next(step for step in steps_of(assembly, shown) if "bed/foot panel" in step.again)
    boards = {board.name for board in assembly.boards if board.name in bed.again}
    boards_kg = total_kg(map(assembly.part, boards))
    others_kg = total_kg(assembly.part(name) for name in bed.again if name not in boards)
    # Turned over, half of it is lifted: boards as heavy as makes that so many people's share.
    times = (2 * shares * ONE_PERSON_KG - others_kg) / boards_kg

    def heavier(board: Board) -> Board:
        density = board.material.density_kg_m3 * times
        return replace(board, material=replace(board.material, density_kg_m3=density))

    made = replace(
        assembly,
        boards=tuple(
            heavier(board) if board.name in boards else board for board in assembly.boards
        ),
    )
    step = next(step for step in steps_of(made, shown) if "bed/foot panel" in step.again)
    assert set(step.again) == set(bed.again)
    assert step.people == people
    lifting = [each.split("on one edge): ")[1] for each in told(step) if " to lift" in each]
    assert lifting == ([words] if words else [])


def test_a_box_that_was_put_together_where_it_stands_is_levelled_edge_by_edge() -> None:
    """Half of it is lifted at the edge that shims go under; common practice, no source."""
    assembly = example().assembly
    steps = steps_of(assembly, shown)
    (bed,) = (step for step in steps if step.title == "Set the bed in its place, level and square")
    half_kg = total_kg(map(assembly.part, bed.again)) / 2
    assert half_kg > ONE_PERSON_KG and bed.people == math.ceil(half_kg / ONE_PERSON_KG) > 1
    words = f"{half_kg:.3g} kg to lift ({2 * half_kg:.3g} kg in all, one edge at a time)"
    assert any(each.startswith(words) for each in told(bed))
    joining = [step for step in steps[: bed.number - 1] if "Put the bed together" in step.title]
    assert joining and all(step.people == 1 for step in joining)


@pytest.mark.parametrize(
    ("inside_mm", "tips"), [(2.0, False), (0.5, False), (-0.5, True), (-2.0, True)]
)
def test_what_would_tip_until_it_is_fixed_is_held(inside_mm: float, tips: bool) -> None:
    """A board h high and T thick on its edge with another, w wide, screwed to its side, up off the
    floor: the centre of both is (T / 2 h + (T + w / 2) w) / (h + w) from the back, so that it lies
    m inside the foot's front edge if h = w (w / 2 + m) / (T / 2 - m).
    """
    thick, wide = RAW.thickness_mm, 100.0
    high = wide * (wide / 2 + inside_mm) / (thick / 2 - inside_mm)

    def board(name: str, bounds: Box, grain: Axis, facing: Direction) -> Board:
        return Board(
            name=name,
            unit="shelf",
            description=name,
            material=RAW,
            box=bounds,
            grain=grain,
            facing=facing,
            show=Show.NONE,
        )

    back = board(
        "back", Box.spanning((0.0, thick), (0.0, 400.0), (0.0, high)), Axis.Z, Direction.X_PLUS
    )
    shelf = board(
        "shelf",
        Box.spanning((thick, thick + wide), (0.0, 400.0), (300.0, 300.0 + thick)),
        Axis.Y,
        Direction.Z_PLUS,
    )
    screw = Screwed(
        screw=NO_6_WIDE,
        head=Point(0.0, 100.0, 300.0 + thick / 2),
        direction=Direction.X_PLUS,
        through="back",
        into="shelf",
    )
    steps = steps_of(Assembly(boards=(back, shelf), joints=(screw,)), shown)
    held = "It can tip over until its screws are in: one person holds it"
    assert [held in step.cautions for step in steps] == [tips, tips]


@pytest.mark.parametrize("hand", list(Hand))
def test_titles_say_what_is_done(hand: Hand) -> None:
    """By the joints: boxes are screwed together from inside, decks are glued on, legs are screwed
    under them before that; the table's carcass is glued and comes whole.
    """
    titles = [step.title for step in steps_of(example(hand).assembly, shown)]
    assert titles == [
        "Fix the wall plates of the wall panel",
        "Put the bench together where it will stand",
        "Set the bench in its place, level and square",
        "Fix the bench to the wall",
        *(
            "Put the bed together where it will stand, 1 of 2",
            "Put the bed together where it will stand, 2 of 2",
        ),
        "Set the bed in its place, level and square",
        "Lay the steel angle into its notches",
        "Lay the bench deck dry in its place",
        "Set the bedside table in place",
        "Fix the bedside table to the wall",
        "Lay the bed deck 1 dry against its neighbour, mark, lift it off",
        *(f"Screw the legs under the bed deck 2, upside down, {part} of 2" for part in (1, 2)),
        "Turn the bed deck 2 over, lay it dry against its neighbour, mark, lift it off",
        "Fix the bed off the wall, through shims",
        "Glue down the bench deck",
        "Glue down the bed deck 1",
        "Glue down the bed deck 2",
        "Drive the screws of the steel angle from below",
        "Drive the screws of the bed deck 2 from below",
        "Hang the wall panel on its plates",
        "Fix the wall panel to the wall",
    ]


@settings(max_examples=30)
@given(random_sizes())
def test_nothing_is_bonded_before_what_floats_was_laid_dry(sizes):
    """What is bonded down later was there before, and is lifted as a whole."""
    assembly = build_set(sizes, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM).assembly
    tasks = ordered(assembly)
    bonded = [
        at
        for at, task in enumerate(tasks)
        if any(isinstance(assembly.joints[joint], Bonded) for joint in task.joints)
    ]
    dry = [at for at, task in enumerate(tasks) if task.kind is Kind.DRY]
    assert not dry or max(dry) < min(bonded)
    tried = {task.parts for task in tasks if task.kind in {Kind.DRY, Kind.LAID}}
    assert {task.again for task in tasks if task.kind is Kind.BOND} == tried


@settings(max_examples=30)
@given(compositions())
def test_what_floats_is_fixed_between_its_dry_fit_and_its_glue(sizes):
    """On any wall, whatever stands beside it; what stands in a corner is fixed before."""
    assume(not list(unsound(sizes, BUILT_FROM)))
    try:
        assembly = build_set(sizes, Hand.RIGHT, BUILT_FROM, ROUTING, TRIM_MM).assembly
    except DeckTooLarge:
        assume(False)
    tasks, groups = ordered(assembly), group_of_part(assembly)
    fixed = {task.group: at for at, task in enumerate(tasks) if task.kind is Kind.FIX}
    comes = {part: at for at, task in enumerate(tasks) for part in task.parts}
    glued = {
        assembly.joints[joint].top: at
        for at, task in enumerate(tasks)
        for joint in task.joints
        if isinstance(assembly.joints[joint], Bonded)
    }
    for joint in assembly.joints:
        if isinstance(joint, Bonded) and joint.top in glued:
            floats = joint.top in floating_tops(assembly)
            assert floats == (comes[joint.top] < glued[joint.top])
            for at in {fixed[groups[name]] for name in joint.on if groups[name] in fixed}:
                assert (comes[joint.top] < at) == floats
                assert at < glued[joint.top]


def test_a_deck_screwed_on_from_below_comes_with_its_box() -> None:
    """So the angle slides in under it."""
    titles = [step.title for step in steps_of(example(held=DeckHold.SCREWED).assembly, shown)]
    at = titles.index("Turn the bed over, set it in place")
    assert titles[at - 1].startswith("Put the bed together upside down")
    assert titles[at : at + 2] == [
        "Turn the bed over, set it in place",
        "Bring in the steel angle: one end down under the deck, then level and home",
    ]


def test_joints_that_go_round_in_a_circle_have_no_order():
    """Two boards that each rest on the other."""
    assembly = example().assembly
    deck, panel = assembly.board("bench/deck"), assembly.board("wall panel/panel")
    circle = Assembly(
        boards=(deck, panel),
        joints=(Seated(top=deck.name, on=(panel.name,)), Seated(top=panel.name, on=(deck.name,))),
    )
    with pytest.raises(NoOrder, match="bench/deck before wall panel/panel"):
        steps_of(circle, shown)


def test_a_box_stands_on_its_base_not_on_its_deck():
    """By hand: a base of 44 x 63 3/8 in has diagonals of 77.15 in; its deck is 60 x 80 in."""
    steps = steps_of(example().assembly, shown)
    bed = next(step for step in steps if "bed/foot panel" in step.again)
    diagonal = shown(math.hypot(44, 63.375) * INCH)
    assert (
        f"Square: the two diagonals, {diagonal}, equal to within {shown(63.375 / 768 * INCH)}"
        in bed.checks
    )


def test_squareness_is_that_of_the_sheets():
    """PS 1-19, as the trade restates it: 1/64 in a foot of the longest edge, 1/8 in on 4 x 8 ft."""
    assert out_of_square_mm(96 * INCH) == pytest.approx(INCH / 8)


def test_each_group_that_is_fixed_to_the_wall_is_fixed_on_its_own():
    """Two boxes of one unit, each screwed to the wall: each is fixed before what lies on it."""
    assembly = example().assembly
    tasks = ordered(assembly)
    for fix in (task for task in tasks if task.kind is Kind.FIX):
        through = {
            joint.through
            for at in fix.joints
            if isinstance(joint := assembly.joints[at], FixedToWall)
        }
        (group,) = {task.group for task in tasks if through & set(task.parts)}
        assert fix.group == group


def test_the_angle_reaches_past_the_panels_by_its_bearing():
    sizes = set_sizes()
    assert sizes.angle is not None
    steps = steps_of(example().assembly, shown)
    checks = steps[place_of(steps, "tie/steel angle")].checks
    reach = shown(sizes.angle.bearing_mm)
    assert f"At least {reach} past the inner face of each panel it runs through" in checks


@pytest.mark.parametrize(("deep_mm", "square"), [(19.0, False), (99.0, False), (101.0, True)])
def test_only_what_has_four_corners_is_measured_across_them(deep_mm: float, square: bool) -> None:
    """Two boards 400 long that stand so far apart, over all; less than 100 is one board's thickness
    with a cleat on it (common practice, no source).
    """
    board = Board(
        name="desk/gable",
        unit="desk",
        description="gable",
        material=RAW,
        box=Box.spanning((0.0, 400.0), (0.0, deep_mm), (0.0, 700.0)),
        grain=Axis.X,
        facing=Direction.Y_PLUS,
        show=Show.NONE,
    )
    task = Task(kind=Kind.GROUP, group=board.name, about="desk", parts=(board.name,), joints=())
    (step,) = steps_of_task(Assembly(boards=(board,)), task, shown, {}, shown)
    assert any("diagonals" in check for check in step.checks) is square
    assert any("Upright both ways" in check for check in step.checks) is not square


def test_no_check_needs_its_step_to_be_known() -> None:
    """Checks stand on the sign-off page too, beside a piece and without a step."""
    steps = steps_of(example().assembly, shown)
    assert not [check for step in steps for check in step.checks if "this step" in check]


def test_what_a_tape_reads_is_told_apart_from_what_fits_more_closely() -> None:
    """Diagonals and shims by the tape, at least 1 mm apart; the packers of a notch more closely."""
    steps = steps_of(
        example().assembly, lambda mm: f"tape {mm:.4f}", closely=lambda mm: f"fit {mm}"
    )
    checks = [check for step in steps for check in step.checks]
    squares = [check for check in checks if check.startswith("Square: ")]
    assert squares
    for check in squares:
        _, diagonal, within = check.split("tape ")
        assert float(diagonal.split(",")[0]) > 0 and float(within) >= 1.0
    packed = [check for check in checks if "packed up in each notch" in check]
    assert all("nominally fit " in check for check in packed)
