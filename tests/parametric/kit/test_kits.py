"""Kits are counted from joints; the holes of the parts, read from their solids, must agree."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given, settings

from parametric.geometry.hand import Hand
from parametric.joints.joints import FixedToWall, Screwed
from parametric.joints.machining import machining
from parametric.kit.compare import compared
from parametric.kit.count import kit_of, shop_hardware_of, times, together
from parametric.kit.kit import Kit, KitUnit
from parametric.kit.supplies import ADHESIVE, SHIMS, TOUCH_UP, Supplies, article_keys
from parametric.sets.room_set import RoomSet, build_set
from parametric.solids.set_model import model_set
from parametric.steps.joints_in_order import joints_in_order
from parametric.stock.lengths import Units
from parametric.stock.made_in import MadeIn
from tests.example_set import CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.strategies import set_sizes as random_sizes

SUPPLIES = Supplies()


def example(hand: Hand = Hand.RIGHT, **changes: float) -> RoomSet:
    return build_set(set_sizes(**changes), hand, CONSTRUCTION, ROUTING, TRIM_MM)


def kit(room_set: RoomSet, supplies: Supplies = SUPPLIES) -> Kit:
    return kit_of(room_set.assembly, supplies, Units.INCH)


def needed(of: Kit) -> dict[str, float]:
    found: Counter[str] = Counter()
    for line in of.lines:
        found[line.key] += line.needed
    return dict(found)


def shop_hardware(room_set: RoomSet) -> Kit:
    return shop_hardware_of(room_set.assembly, SUPPLIES, Units.INCH)


def screws_by_shank(room_set: RoomSet) -> Counter[float]:
    """Count the screws of kit and shop by the clearance hole that they want."""
    diameters = {
        joint.screw.key: round(joint.screw.clearance_diameter_mm, 6)
        for joint in room_set.assembly.joints
        if isinstance(joint, Screwed | FixedToWall)
    }
    counts: Counter[float] = Counter()
    for line in (*kit(room_set).lines, *shop_hardware(room_set).lines):
        if line.key in diameters:
            counts[diameters[line.key]] += line.needed
    return counts


def bought_holes(room_set: RoomSet) -> Counter[float]:
    """Count the holes that legs (four each) and wall plates (two each) are bought with."""
    counts: Counter[float] = Counter()
    for leg in room_set.assembly.legs:
        counts[round(leg.hardware.screw.clearance_diameter_mm, 6)] += 4
    for plate in room_set.assembly.wall_plates:
        counts[round(plate.hardware.screw.clearance_diameter_mm, 6)] += 2
    return counts


@pytest.mark.parametrize("hand", Hand)
def test_the_holes_of_the_flat_panels_give_kit_and_shop_hardware(hand):
    """Right through, of a shank's diameter: counted in panels and bars as read from their solids,
    where a cleat's holes through its lesser side are edge bores; the steel angle's in its
    definition, since it is not flattened.
    """
    room_set = example(hand)
    model = model_set(room_set, ROUTING)
    shanks = set(screws_by_shank(room_set))
    counts = bought_holes(room_set)
    for read in (*model.read_boards, *model.read_cleats):
        through = [bore for bore in read.laid.panel.bores if bore.depth_mm is None]
        for bore in (*through, *read.laid.panel.edge_bores):
            counts.update(shank for shank in shanks if abs(shank - bore.diameter_mm) < 1e-3)
    for angle in room_set.assembly.angles:
        counts.update(round(f.diameter_mm, 6) for f in model.machining.of(angle.name))
    assert counts == screws_by_shank(room_set)


@settings(max_examples=25)
@given(random_sizes())
def test_the_holes_of_any_set_give_kit_and_shop_hardware(sizes):
    room_set = build_set(sizes, Hand.LEFT, CONSTRUCTION, ROUTING, TRIM_MM)
    shanks = screws_by_shank(room_set)
    counts = bought_holes(room_set)
    for features in machining(room_set.assembly, ROUTING).features.values():
        for feature in features:
            diameter = round(getattr(feature, "diameter_mm", 0.0), 6)
            if diameter in shanks and feature.depth_mm is None:
                counts[diameter] += 1
    assert counts == shanks


@given(random_sizes())
@settings(max_examples=10)
def test_both_hands_need_the_same(sizes):
    right, left = (
        kit(build_set(sizes, hand, CONSTRUCTION, ROUTING, TRIM_MM))
        for hand in (Hand.RIGHT, Hand.LEFT)
    )
    assert [replace(line, needed=0.0) for line in right.lines] == [
        replace(line, needed=0.0) for line in left.lines
    ]
    assert needed(right) == pytest.approx(needed(left))


def test_each_part_that_is_bought_is_in_the_kit():
    room_set = example()
    found = needed(kit(room_set))
    assert found[CONSTRUCTION.angle.key] == 1
    assert found[CONSTRUCTION.leg.key] == len(room_set.assembly.legs) == 4
    assert found[CONSTRUCTION.wall_plate.key] == len(room_set.assembly.wall_plates) == 3
    capped = [j for j in room_set.assembly.joints if isinstance(j, FixedToWall) and j.cap]
    assert found[CONSTRUCTION.cap.key] == len(capped) == 5
    assert found[TOUCH_UP] == 1


def test_the_angle_is_packed_by_its_length():
    """From 16 - 3/4 - 6 in to 48 1/8 + 3/4 + 6: 45 5/8."""
    (line,) = (line for line in kit(example()).lines if line.key == CONSTRUCTION.angle.key)
    assert line.description == 'steel angle, 45 5/8" long'


def test_every_line_names_the_joints_that_use_it():
    room_set = example()
    for line in kit(room_set).lines:
        for at in line.joints:
            joint = room_set.assembly.joints[at]
            if isinstance(joint, Screwed | FixedToWall) and line.key == joint.screw.key:
                assert line.description == joint.screw.description
        if line.key == CONSTRUCTION.screw_cleat_wide.key:
            assert len(line.joints) == line.needed
        if line.key != TOUCH_UP:
            assert line.joints


def test_adhesive_goes_by_the_beads_under_the_decks():
    """The bench's box is 16 x 36 in with panels of 3/4: front 16, sides 35 1/4 each, back between
    them. The bed's is 44 x 63 3/8: front 44, sides 62 5/8 each, back 42 1/2; a bearer of 42 1/2
    under the middle of its first board, and one under the joint, which takes a bead for each.
    """
    supplies = Supplies(adhesive_bead_mm=6.0)
    bench_in, bed_in = 16 + 2 * 35.25 + 14.5, 44 + 2 * 62.625 + 42.5 + 3 * 42.5
    ml = (bench_in + bed_in) * INCH * 3.141592653589793 / 4 * 6.0**2 / 1000
    assert needed(kit(example(), supplies))[ADHESIVE] == pytest.approx(ml)


def test_what_the_shop_joins_is_in_its_list_alone():
    """By hand: in the shop two No. 8 hold each upright cleat flat on its panel. Legs are screwed on
    in the room, or in the shop where the job says so, and go from the one list to the other.
    """
    room_set = example()
    site, shop = needed(kit(room_set)), needed(shop_hardware(room_set))
    assert set(shop) == {CONSTRUCTION.screw_cleat_thin.key}
    assert CONSTRUCTION.screw_cleat_thin.key not in site
    in_shop = replace(CONSTRUCTION, legs_made_in=MadeIn.SHOP)
    room_set = build_set(set_sizes(), Hand.RIGHT, in_shop, ROUTING, TRIM_MM)
    legs = {CONSTRUCTION.leg.key: 4, CONSTRUCTION.leg.screw.key: 16}
    assert needed(shop_hardware(room_set)) == shop | legs
    assert needed(kit(room_set)).items() == {k: v for k, v in site.items() if k not in legs}.items()


def test_cleats_put_on_in_the_room_are_in_the_kit():
    """Every screw of the set then is."""
    on_site = replace(CONSTRUCTION, cleats_made_in=MadeIn.SITE)
    room_set = build_set(set_sizes(), Hand.RIGHT, on_site, ROUTING, TRIM_MM)
    assert not shop_hardware(room_set).lines
    joints = room_set.assembly.joints
    screws = Counter(j.screw.key for j in joints if isinstance(j, Screwed | FixedToWall))
    found = needed(kit(room_set))
    assert screws == {key: found[key] for key in screws}


def test_shims_go_by_the_screws_through_boards_into_the_wall():
    room_set = example()
    plates = {plate.name for plate in room_set.assembly.wall_plates}
    fixings = [
        joint
        for joint in room_set.assembly.joints
        if isinstance(joint, FixedToWall) and joint.through not in plates
    ]
    assert needed(kit(room_set, Supplies(shims_per_fixing=3)))[SHIMS] == 3 * len(fixings)


@pytest.mark.parametrize(("share", "spare"), [(0.0, 0), (0.01, 1), (0.05, 2), (0.1, 3), (1.0, 26)])
def test_spares_are_whole_and_rounded_up(share, spare):
    """26 screws, 8 in the corners of each box and 2 at each end of 2 bearers, and 2 up into the
    bed's deck: 5 % are 1.3.
    """
    (line,) = (
        line
        for line in kit(example(), Supplies(spare_screws=share)).lines
        if line.key == CONSTRUCTION.screw_cleat_wide.key
    )
    assert (line.needed, line.spare, line.packed) == (26, spare, 26 + spare)


def test_ten_per_cent_of_sixty_are_six():
    example_set = example().assembly
    screw = next(joint for joint in example_set.joints if isinstance(joint, FixedToWall))
    lines = kit_of(replace(example_set, joints=60 * (screw,)), SUPPLIES, Units.INCH).lines
    (line,) = (line for line in lines if line.key == screw.screw.key)
    assert (line.needed, line.spare) == (60, 6)


def test_what_is_not_supplied_stays_on_the_list():
    lines = kit(example(), Supplies(not_supplied=(ADHESIVE,))).lines
    assert [line.key for line in lines if not line.supplied] == [ADHESIVE]


def test_a_job_packs_a_box_for_each_room():
    one, other = kit(example()), kit(example(bed_width=39.0))
    whole = together((times(one, 3), times(other, 2)))
    for key in (CONSTRUCTION.leg.key, CONSTRUCTION.screw_cleat_wide.key, ADHESIVE):
        assert needed(whole)[key] == pytest.approx(3 * needed(one)[key] + 2 * needed(other)[key])
    packed = sum(line.packed for line in whole.lines if line.unit is KitUnit.PIECES)
    boxes = [3 * line.packed for line in one.lines if line.unit is KitUnit.PIECES]
    boxes += [2 * line.packed for line in other.lines if line.unit is KitUnit.PIECES]
    assert packed == sum(boxes)


def test_every_article_can_be_named():
    assert {line.key for line in kit(example()).lines} <= set(article_keys(CONSTRUCTION))


def test_a_list_short_of_a_screw_says_where_it_runs_out():
    room_set = example()
    ours = kit(room_set)
    listed = needed(ours) | {"hooks": 4.0}
    listed[CONSTRUCTION.screw_angle.key] -= 1
    listed[CONSTRUCTION.cap.key] += 2
    in_order = joints_in_order(room_set.assembly)
    amiss = {d.key: d for d in compared(ours, listed, in_order) if abs(d.over) > 1e-9}
    assert {key: d.over for key, d in amiss.items()} == {
        CONSTRUCTION.screw_angle.key: -1,
        CONSTRUCTION.cap.key: 2,
        "hooks": 4,
    }
    # The steps of the example, by hand: the screws of the angle are driven in the twentieth.
    joints = room_set.assembly.joints
    step, words = next(
        (step, words)
        for at, words in reversed(in_order.items())
        for step in [words.partition(",")[0]]
        if isinstance(joints[at], Screwed) and joints[at].screw.key == CONSTRUCTION.screw_angle.key
    )
    short = amiss[CONSTRUCTION.screw_angle.key]
    assert short.short
    assert short.runs_out_at == words
    assert step == "step 20"
    assert "Drive the screws of the steel angle from below: tie/steel angle to" in words
    assert not amiss["hooks"].runs_out_at


def test_a_list_with_no_spares_is_not_short():
    ours = kit(example())
    assert not any(difference.short for difference in compared(ours, needed(ours)))
