"""The comparison of solids can fail, and tells how much differs."""

import cadquery as cq
import pytest

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
