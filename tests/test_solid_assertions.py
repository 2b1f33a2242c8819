"""The comparison of solids can fail, and tells how much differs."""

import random

import cadquery as cq
import pytest

from tests.casewright.dxf_to_solid import (
    best_difference,
    centred,
    least_difference_mm3,
    same_box,
    turned_every_way,
)
from tests.solid_assertions import difference_mm3, mirrored

BLOCK = cq.Solid.makeBox(100, 50, 20)


def test_equal_solids_do_not_differ() -> None:
    turned = BLOCK.rotate(cq.Vector(50, 25, 10), cq.Vector(50, 25, 11), 180)
    assert difference_mm3(BLOCK, turned) == pytest.approx(0, abs=1e-6)


def test_a_hole_differs_by_its_volume() -> None:
    drilled = BLOCK.cut(cq.Solid.makeCylinder(2, 10, cq.Vector(30, 20, 10)))
    assert difference_mm3(BLOCK, drilled) == pytest.approx(cq.Solid.makeCylinder(2, 10).Volume())


def test_a_mirror_image_differs() -> None:
    drilled = BLOCK.cut(cq.Solid.makeCylinder(2, 10, cq.Vector(30, 20, 10)))
    back = mirrored(drilled).moved(cq.Location(cq.Vector(100, 0, 0)))
    assert difference_mm3(drilled, back) > 200


def drilled_anywhere(seed: int) -> cq.Shape:
    dice = random.Random(seed)
    block: cq.Shape = BLOCK
    for _ in range(dice.randint(0, 3)):
        at = cq.Vector(dice.uniform(5, 95), dice.uniform(5, 45), 10)
        block = block.cut(cq.Solid.makeCylinder(2, 10, at))
    return block


@pytest.mark.parametrize("seed", range(6))
def test_the_best_way_is_found_without_trying_all(seed: int) -> None:
    """Against the differences of all turns; of none is less than what its moment says."""
    one, other = drilled_anywhere(seed), drilled_anywhere(seed + 100)
    target = centred(other)
    turned = [each for each in turned_every_way(centred(one)) if same_box(each, target)]
    differences = [difference_mm3(each, target) for each in turned]
    for each, difference in zip(turned, differences, strict=True):
        assert least_difference_mm3(each, target) <= difference + 1e-3
    assert best_difference(one, other) == pytest.approx(min(differences), abs=1e-3)
    assert best_difference(one, one) == pytest.approx(0.0, abs=1e-3)
