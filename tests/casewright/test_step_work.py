"""What a step says is to be done, held to the joints and to figures by hand."""

import math
from dataclasses import fields, replace
from functools import cache

import pytest

from casewright.stages.site.room_work import before_lines, bits_to_bring, closing_step
from casewright.stages.site.site_content import adhesive_ml_mm, cartridges
from casewright.stages.site.site_pictures import article_letters
from casewright.stages.site.site_stage import USUAL_FITTING
from casewright.stages.site.step_work import bead_told, into_wall_mm, work_of
from parametric.geometry.hand import Hand
from parametric.geometry.space import Direction, Point
from parametric.joints.joints import FixedToWall, Hung
from parametric.joints.machining import machining
from parametric.kit.count import kit_of
from parametric.kit.kit import KitLine, KitUnit
from parametric.kit.supplies import ADHESIVE, Supplies
from parametric.pictures.scene import scenes_of
from parametric.primitives.decked_box import DeckHold
from parametric.sets.room_set import RoomSet, build_set
from parametric.sets.room_walls import WOOD_STUDS, RoomWalls
from parametric.steps.order import steps_of
from parametric.stock.hardware import Screw
from parametric.stock.lengths import Units, show_length
from parametric.stock.wall_types import WallKind
from tests.casewright.site_example import KIT, fit
from tests.example_set import CONSTRUCTION, INCH, NO_10_WALL, ROUTING, TRIM_MM, set_sizes
from tests.wall_examples import fixing, walls


def shown(length_mm: float) -> str:
    return show_length(length_mm, Units.INCH)


def made(held: DeckHold | None = None, room_walls: RoomWalls = WOOD_STUDS) -> RoomSet:
    sizes = set_sizes(deck_held=held)
    return build_set(sizes, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM, room_walls)


@cache
def work(
    held: DeckHold | None = None,
    room_walls: RoomWalls = WOOD_STUDS,
    set_minutes: float | None = None,
) -> dict[str, tuple[str, ...]]:
    """The sentences of each step, by its title."""
    room_set = made(held, room_walls)
    assembly = room_set.assembly
    steps = steps_of(assembly, shown, room_set.outwards)
    scenes = scenes_of(assembly, machining(assembly, ROUTING), steps, room_set.outwards)
    letters = article_letters(assembly, steps)
    ml_mm = adhesive_ml_mm(assembly, kit_of(assembly, Supplies(), Units.INCH))
    return {
        step.title: work_of(assembly, step, scene, letters, ml_mm, Units.INCH, set_minutes)
        for step, scene in zip(steps, scenes, strict=True)
    }


def test_which_way_up_and_in() -> None:
    assert work()["Fix the wall plates of the wall panel"][0] == (
        "Lip up, pointing away from the wall"
    )
    assert "Let it down from above" in work()["Glue down the bench deck"]
    assert "Good face up" in work()["Glue down the bench deck"]
    assert (
        "Flat leg up, upright leg towards the head wall"
        in (work()["Lay the steel angle into its notches"])
    )


def test_a_hung_panel_is_held_as_much_higher_as_its_groove_lets_it() -> None:
    (joint,) = (each for each in made().assembly.joints if isinstance(each, Hung))
    line = work()["Hang the wall panel on its plates"][-1]
    assert line.startswith(f"Hold it {shown(joint.lift_mm)} above its place, the groove")


def test_a_tilted_way_says_which_end_goes_first() -> None:
    """The bed's deck came with its box: the angle's end there goes down under it."""
    title = "Bring in the steel angle: one end down under the deck, then level and home"
    (line,) = [line for line in work(DeckHold.SCREWED)[title] if "first" in line]
    assert line.startswith("The end at the bed first and down, tilted by up to ")
    degrees = int(line.split("tilted by up to ")[1].split()[0])
    assert 1 <= degrees <= 75


def test_pilot_holes_are_those_of_the_articles() -> None:
    """The plates' screws are the first that the steps take, so their letter is A."""
    pilot = shown(NO_10_WALL.pilot_diameter_mm)
    (line,) = [x for x in work()["Fix the wall plates of the wall panel"] if "drill" in x]
    assert line.startswith(f"A: drill {pilot} into the wood of the wall")


@pytest.mark.parametrize(
    ("room_walls", "hole"),
    [
        (
            walls(WallKind.BULKHEAD, fixing()),
            'A: drill 5.0 and tap, 2 3/4" deep behind the lining, made by the installer',
        ),
        (walls(WallKind.MASONRY), None),
    ],
    ids=("its fixing is given", "an engineer specifies it"),
)
def test_nobody_is_told_to_drill_for_wood_where_there_is_none(
    room_walls: RoomWalls, hole: str | None
) -> None:
    """By hand: a hole of 70 mm is 2 3/4 in to the nearest 1/32."""
    lines = work(None, room_walls)
    plates = lines["Fix the wall plates of the wall panel"]
    assert [line for line in plates if "drill" in line] == ([hole] if hole else [])
    assert not any("wood" in line for each in lines.values() for line in each)


def tools(room_set: RoomSet) -> dict[str, tuple[str, ...]]:
    """The tools of each step that has some, by its title."""
    return {step.title: step.tools for step in steps_of(room_set.assembly, shown)}


def with_drives(drives: dict[str, str | None]) -> RoomSet:
    """The example, its screws with drives by their description."""
    told = {
        field.name: replace(screw, drive=drives[screw.description])
        for field in fields(CONSTRUCTION)
        if isinstance(screw := getattr(CONSTRUCTION, field.name), Screw)
    }
    return build_set(set_sizes(), Hand.RIGHT, replace(CONSTRUCTION, **told), ROUTING, TRIM_MM)


def test_each_step_names_the_bits_of_its_own_screws_and_of_no_others() -> None:
    """Sizes as ISO 10664 and ISO 4757 name them; which fits which screw is from memory."""
    drives = {"No. 8 x 1 1/4 in": "T20", "No. 6 x 2 in": "T15", "No. 10 x 3 in": "PZ 3"}
    of = tools(with_drives({**drives, "No. 10 x 3/4 in": "T25"}))
    assert of["Put the bench together where it will stand"][:2] == ("driver", "bit T15")
    assert of["Drive the screws of the steel angle from below"][:2] == ("driver", "bit T25")
    assert "bit PZ 3" in of["Fix the bench to the wall"]
    placed = of["Set the bench in its place, level and square"]
    assert not any("bit" in tool or tool == "driver" for tool in placed)


def test_a_screw_without_a_drive_is_named_instead() -> None:
    bits = tools(made())["Drive the screws of the steel angle from below"]
    assert bits[:2] == ("driver", "the bit that fits No. 10 x 3/4 in")


def test_nobody_looks_for_the_bit_of_what_an_engineer_has_yet_to_specify() -> None:
    lines = tools(made(None, walls(WallKind.MASONRY)))["Fix the bench to the wall"]
    assert "driver" in lines and not any("bit" in line for line in lines)


def test_the_set_says_which_bits_to_bring() -> None:
    assembly = with_drives(
        dict.fromkeys(("No. 8 x 1 1/4 in", "No. 6 x 2 in"), "T20")
        | dict.fromkeys(("No. 10 x 3 in", "No. 10 x 3/4 in"), "T25")
    ).assembly
    steps = steps_of(assembly, shown)
    taken = [assembly.joints[at] for step in steps for at in step.joints]
    told = bits_to_bring(taken)
    assert told.startswith("bring bits ") and told.endswith("others as the steps say")
    assert set(told.removeprefix("bring bits ").split(", ")[:-1]) == {"T20", "T25"}
    assert bits_to_bring([]) == ""
    named = [joint for joint in taken if getattr(joint, "screw", None) and joint.screw.drive]
    assert "others" not in bits_to_bring(named)


def test_only_flat_heads_lie_flush() -> None:
    """Washer heads bear on the face that they lie on."""
    lines = work()
    (angle,) = (x for x in lines["Drive the screws of the steel angle from below"] if "pilot" in x)
    (box,) = (x for x in lines["Put the bench together where it will stand"] if "pilot" in x)
    assert "heads flush" not in angle and "down tight" in angle
    assert box.endswith("heads flush")


@pytest.mark.parametrize(("wall_mm", "deep"), [(0.0, 3 * INCH - 20.0), (5.0, 3 * INCH - 15.0)])
def test_how_deep_a_wall_screw_goes(wall_mm: float, deep: float) -> None:
    """By hand: a screw of 3 in through a board of 20 mm against the wall, or reaching 5 mm more."""
    joint = FixedToWall(
        screw=NO_10_WALL,
        head=Point(0.0, 20.0, 500.0),
        direction=Direction.Y_MINUS,
        through="rail",
        wall_mm=wall_mm,
    )
    assert into_wall_mm(joint) == pytest.approx(deep)


def test_the_beads_of_all_steps_take_what_the_kit_has() -> None:
    """The section of a bead of 6 mm is 9 pi mm2, 28.3 ml a metre (the kit's own figure)."""
    assembly = made().assembly
    kit = kit_of(assembly, Supplies(), Units.INCH)
    assert adhesive_ml_mm(assembly, kit) == pytest.approx(math.pi * 9 / 1000)
    told = [line for lines in work().values() for line in lines if "of bead" in line]
    ml = [int(line.rsplit(" ", 2)[1]) for line in told]
    needed = next(line.needed for line in kit.lines if line.key == ADHESIVE)
    assert needed <= math.fsum(ml) < needed + len(ml)


@pytest.mark.parametrize(
    ("mm", "units", "told"),
    [
        (1230.0, Units.MM, "1230 mm"),
        (1231.0, Units.MM, "1240 mm"),
        (2 * 12.7, Units.INCH, '1"'),
        (2 * 12.7 + 0.8, Units.INCH, '1 1/2"'),
    ],
)
def test_beads_are_told_without_false_digits(mm: float, units: Units, told: str) -> None:
    assert bead_told(mm, units) == told


@pytest.mark.parametrize(
    ("minutes", "told"),
    [
        (None, "until it has set (see the tube)"),
        (45.0, "for 45 min"),
        (120.0, "for 2 h"),
        (1440.0, "for 24 h"),
        (130.0, "for 2.5 h"),
    ],
)
def test_what_is_glued_stays_clamped(minutes: float | None, told: str) -> None:
    """In each step that glues, and in no other."""
    lines = work(set_minutes=minutes)
    for title, each in lines.items():
        clamped = [line for line in each if line.startswith("Keep it clamped or weighted")]
        glues = any("of bead" in line for line in each)
        assert clamped == ([f"Keep it clamped or weighted {told}"] if glues else []), title


@pytest.mark.parametrize(("ml", "count"), [(1, 1), (300, 1), (301, 2), (900, 3)])
def test_adhesive_comes_in_whole_cartridges(ml: float, count: int) -> None:
    line = KitLine(
        key=ADHESIVE,
        description="adhesive",
        unit=KitUnit.MILLILITRES,
        needed=ml,
        spare=0.0,
        joints=(),
    )
    assert f", {count} cartridge" in cartridges(line)


def test_what_the_rooms_ask_for_before_the_first_part() -> None:
    """The example room: 100 mm of wall base, up to 4 mm low, its corner not measured."""
    always = [
        "Read the room's page first: its distances and shims overrule these sheets",
        "Find the highest point of the floor under the set and strike a level line from it: all"
        " heights count from there",
    ]
    assert list(before_lines([fit("101")], Units.MM)) == [
        *always,
        "Cut the wall base away where boxes stand against the walls: 100 mm in all, as the room's"
        " page says",
        "Pack boxes and legs up level with it, by up to 4 mm, as the room's page says",
        "Scribe what lies in the corner to the side wall before it is glued or fixed, by up to 2"
        " mm, as the room's page says",
        "Measure what the room's page lists as not measured",
    ]
    assert list(before_lines([], Units.MM)) == always


def test_the_last_step_closes_the_set_to_the_room() -> None:
    step = closing_step(9, made(), KIT, [fit("101")], USUAL_FITTING, Units.MM)
    assert not step.parts and not step.joints and step.number == 9
    assert step.checks[0] == (
        "Narrow gaps beyond the set closed with fillers; the room's page has them all (13 mm)"
    )
    assert "Protective film off every face, where the boards came with it" in step.checks
    wide = replace(USUAL_FITTING, most_filler_mm=12.0)
    stays_open = closing_step(9, made(), KIT, [fit("101")], wide, Units.MM)
    assert stays_open.title == "Clean up", "what stays open is not closed"
    unmeasured = closing_step(9, made(), KIT, [], USUAL_FITTING, Units.MM)
    assert not any("gaps" in check for check in unmeasured.checks)
