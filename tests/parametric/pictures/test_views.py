"""From where steps are seen: upright, at a right angle, mirrored for the other hand, and so that
the screws of a step show their heads.
"""

from functools import cache

import pytest
from hypothesis import given, settings

from parametric.geometry.hand import Hand
from parametric.geometry.pose import Pose
from parametric.geometry.space import Direction, Placing, Point, dot
from parametric.joints.joints import Screwed
from parametric.joints.machining import machining
from parametric.pictures.apart import Coming
from parametric.pictures.bodies import AS_IT_STANDS, Body, body_of
from parametric.pictures.scene import Scene, drawn, scenes_of
from parametric.pictures.sight import seen_points
from parametric.pictures.views import MOST_VIEWS, TURNED, View, cameras, views
from parametric.primitives.decked_box import DeckHold
from parametric.sets.composition import SetSizes
from parametric.sets.room_set import RoomSet, build_set
from parametric.steps.order import steps_of
from parametric.steps.part_boxes import boxes_of
from parametric.steps.step import Step
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM, set_sizes
from tests.strategies import set_sizes as random_sizes

AXES = (Point(1.0, 0.0, 0.0), Point(0.0, 1.0, 0.0), Point(0.0, 0.0, 1.0))


@cache
def example(hand: Hand) -> tuple[RoomSet, list[Step], list[Scene], dict[str, Body]]:
    room_set = build_set(set_sizes(), hand, CONSTRUCTION, ROUTING, TRIM_MM)
    assembly = room_set.assembly
    worked = machining(assembly, ROUTING)
    steps = list(steps_of(assembly, str, room_set.outwards))
    bodies = {part.name: body_of(part, worked) for part in (*assembly.boards, *assembly.members)}
    return room_set, steps, list(scenes_of(assembly, worked, steps, room_set.outwards)), bodies


def seen_from(scene: Scene, bodies: dict[str, Body], hand: Hand) -> tuple[View, ...]:
    usual_first = cameras(hand, upside_down=scene.upside_down)
    return views(scene.drives, drawn(bodies, scene), usual_first)


@pytest.mark.parametrize("upside_down", [False, True])
@pytest.mark.parametrize("hand", list(Hand))
def test_axes_are_seen_as_a_camera_sees_them(hand: Hand, upside_down: bool) -> None:
    """Gauss's theorem of axonometry: seen at a right angle from far away, the squares of the ends
    of three axes, taken as complex numbers, add up to nothing, and their sizes squared to 2.
    """
    for camera in cameras(hand, upside_down=upside_down):
        x, y, z = (complex(*camera.seen(axis)) for axis in AXES)
        assert abs(x**2 + y**2 + z**2) < 1e-9
        assert abs(x) ** 2 + abs(y) ** 2 + abs(z) ** 2 == pytest.approx(2.0)
        assert abs(z.real) < 1e-9, "what stands upright in the room does so in the picture"
        assert (z.imag < 0) is upside_down


def test_the_hands_are_seen_from_mirrored_places() -> None:
    for right, left in zip(cameras(Hand.RIGHT), cameras(Hand.LEFT), strict=True):
        mirrored = Point(-left.towards.x, left.towards.y, left.towards.z)
        assert right.towards == pytest.approx(mirrored)


def test_the_usual_view_is_from_the_room_into_the_corner() -> None:
    """Facing the head wall (y = 0, the room at y < 0), a right hand's corner is at the right, so
    that the room lies at x < 0.
    """
    x, y, z = next(cameras(Hand.RIGHT)).towards
    assert x < 0 and y < 0 and z > 0


def test_a_scene_shows_what_stands_by_then_and_not_what_was_lifted_off() -> None:
    _, steps, scenes, _ = example(Hand.RIGHT)
    came: set[str] = set()
    for at, (step, scene) in enumerate(zip(steps, scenes, strict=True)):
        later = {name for other in steps[at:] for name in other.again}
        dry = {name for other in steps[:at] if other.stays for name in other.parts}
        assert came.issuperset(scene.there)
        assert (later - dry).isdisjoint(scene.there)
        assert not set(step.again) & set(scene.there)
        if not step.upside_down and scene.in_room:
            assert (dry & came) <= {*scene.there, *scene.poses}
        assert set(scene.poses) == {*step.parts, *step.again, *step.beside}
        came.update(step.parts)
    last = scenes[-1]
    assert {*last.there, *last.poses} == came


@pytest.mark.parametrize("hand", list(Hand))
def test_the_heads_of_the_screws_look_at_the_viewer(hand: Hand) -> None:
    _, steps, scenes, bodies = example(hand)
    faces = 0
    for step, scene in zip(steps, scenes, strict=True):
        shown = seen_from(scene, bodies, hand)
        assert sorted(at for _, seen in shown for at in seen) == list(range(len(scene.drives)))
        for camera, seen in shown:
            for at, is_seen in seen.items():
                assert is_seen, f"{step.title}: screw {at} is hidden"
                assert -dot(scene.drives[at].way, camera.towards) >= TURNED
                faces += 1
    assert faces > 50


def test_screws_from_below_are_seen_from_below() -> None:
    _, steps, scenes, bodies = example(Hand.RIGHT)
    for step, scene in zip(steps, scenes, strict=True):
        if step.title.endswith("from below"):
            for camera, _ in seen_from(scene, bodies, Hand.RIGHT):
                assert camera.towards.z < 0 and camera.up.z > 0


def test_what_is_put_together_upside_down_is_drawn_so() -> None:
    _, steps, scenes, bodies = example(Hand.RIGHT)
    turned = [each for each in zip(steps, scenes, strict=True) if each[0].upside_down]
    assert turned
    for step, scene in turned:
        assert not scene.in_room and not scene.there
        assert set(scene.poses) == {*step.parts, *step.beside}
        for camera, _ in seen_from(scene, bodies, Hand.RIGHT):
            assert camera.up.z < 0 and camera.towards.z < 0


def test_parts_are_drawn_off_along_their_screws() -> None:
    """A leg comes off its deck downwards, a wall plate off its wall into the room, a deck that is
    laid on comes from above.
    """
    room_set, steps, scenes, _ = example(Hand.RIGHT)
    legs = {leg.name for leg in room_set.assembly.legs}
    plates = {plate.name for plate in room_set.assembly.wall_plates}
    seen = 0
    for step, scene in zip(steps, scenes, strict=True):
        for name, pose in scene.poses.items():
            x, y, z = pose.origin
            if name in legs and name in step.parts:
                assert (x, y) == (0.0, 0.0) and z < 0
                seen += 1
            if name in plates:
                assert (x, z) == (0.0, 0.0) and y < 0
                seen += 1
            if name == "bench/deck":
                assert (x, y) == (0.0, 0.0) and z > 0
                seen += 1
    assert seen == len(legs) + len(plates) + 2  # the deck is laid dry, and then glued down


def test_what_is_drawn_apart_shares_no_volume() -> None:
    """Pieces that are set back straight out of each other do not meet on their way."""
    room_set, _, scenes, _ = example(Hand.RIGHT)
    part = room_set.assembly.part
    for scene in (each for each in scenes if not each.in_room):
        boxes = {
            name: part(name).box.placed(shift(each)) for each in scene.coming for name in each.names
        }
        for each in scene.coming:
            for name in each.names:
                others = (boxes[other] for other in boxes if other not in each.names)
                assert all(boxes[name].overlap(other) is None for other in others)


def shift(coming: Coming) -> Placing:
    assert coming.pose == Pose(coming.pose.origin, AS_IT_STANDS.x_axis, AS_IT_STANDS.z_axis)
    return Placing(shift=coming.pose.origin)


def test_a_thread_leads_from_each_hole_to_where_its_screw_ends_up() -> None:
    room_set, steps, scenes, _ = example(Hand.LEFT)
    for step, scene in zip(steps, scenes, strict=True):
        for drive in scene.drives:
            joint = room_set.assembly.joints[drive.at]
            apart = isinstance(joint, Screwed) and (
                scene.poses.get(joint.through, AS_IT_STANDS)
                != scene.poses.get(joint.into, AS_IT_STANDS)
            )
            if isinstance(joint, Screwed):
                assert (drive.to is not None) is apart, step.title


def test_an_angle_is_drawn_on_its_tilted_way_clear_of_what_stands() -> None:
    """Where it is drawn, its low end under the deck, no corner of it lies in a part that stands."""
    sizes = set_sizes(deck_held=DeckHold.SCREWED)
    room_set = build_set(sizes, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM)
    assembly = room_set.assembly
    worked = machining(assembly, ROUTING)
    steps = list(steps_of(assembly, str, room_set.outwards))
    tilted = [
        (scene, coming)
        for scene in scenes_of(assembly, worked, steps, room_set.outwards)
        for coming in scene.coming
        if coming.first is not None
    ]
    ((scene, coming),) = tilted
    assert coming.names == (assembly.angles[0].name,)
    assert 0.0 < coming.tilt_deg <= 75.0
    ends = [
        coming.pose.to_room(corner)
        for side in Direction
        for corner in assembly.angles[0].box.corners(side)
    ]
    standing = [box for name in scene.there for box in boxes_of(assembly.part(name), worked)]
    assert not any(box.contains(end, -1.0) for end in ends for box in standing)
    low = min(ends, key=lambda end: end.z)
    deck = next(each.box for each in assembly.boards if each.name == "bed/deck 1")
    assert low.z < deck.low.z and deck.low.x < low.x < deck.high.x


@settings(max_examples=15, deadline=None)
@given(random_sizes())
def test_every_screw_of_any_set_is_driven_in_some_view(sizes: SetSizes) -> None:
    room_set = build_set(sizes, Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM)
    assembly = room_set.assembly
    worked = machining(assembly, ROUTING)
    steps = list(steps_of(assembly, str, room_set.outwards))
    bodies = {part.name: body_of(part, worked) for part in (*assembly.boards, *assembly.members)}
    for scene in scenes_of(assembly, worked, steps, room_set.outwards):
        shown = seen_from(scene, bodies, Hand.RIGHT)
        assert sorted(at for _, seen in shown for at in seen) == list(range(len(scene.drives)))
        if len(shown) == MOST_VIEWS:
            continue
        placed = drawn(bodies, scene)
        for at in (at for _, seen in shown for at, is_seen in seen.items() if not is_seen):
            drive = scene.drives[at]  # hidden only where no camera sees its head, as in a low box
            for camera in cameras(Hand.RIGHT, upside_down=scene.upside_down):
                turned = -dot(drive.way, camera.towards) >= TURNED
                assert not (turned and seen_points([drive.head], placed.values(), camera)[0])
