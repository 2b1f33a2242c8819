"""Where a job's files list something belongs to no thing's identity."""

from dataclasses import replace

import pytest

from parametric.lists.cut_list import BarPart, PartHand
from parametric.stock.hardware import AngleSection
from parametric.stock.materials import BarMaterial, SheetMaterial
from parametric.stock.origin import Origin
from tests.example_set import CONSTRUCTION, RAW

HERE = Origin(file="shop/boards.yaml", line=11, key_path="materials.raw.stock")
THERE = Origin(file="own/boards.yaml", line=40, key_path="materials.board.stock")
BAR = BarPart(
    number="C1",
    description="cleat",
    units=("bed",),
    hand=PartHand.EITHER,
    material="cleat",
    material_name="cleat",
    profile="19 x 38 mm",
    length_mm=600.0,
    stock_length_mm=2400.0,
    holes=(),
    quantity=1,
    mass_kg=0.2,
)
SHEET = RAW.stock[0]


def test_sheets_listed_at_two_places_are_the_same_sheets() -> None:
    one, other = replace(SHEET, origin=HERE), replace(SHEET, origin=THERE)
    assert one == other == SHEET
    assert len({one, other, SHEET}) == 1
    assert one != replace(SHEET, length_mm=SHEET.length_mm + 1)


@pytest.mark.parametrize("thing", [RAW, CONSTRUCTION.cleat, CONSTRUCTION.angle, BAR])
def test_what_is_listed_at_two_places_is_the_same(
    thing: SheetMaterial | BarMaterial | AngleSection | BarPart,
) -> None:
    """Two rooms whose files list the same board in two places take it from one stock."""
    one, other = replace(thing, stock_origin=HERE), replace(thing, stock_origin=THERE)
    assert one == other == thing
    assert len({one, other, thing}) == 1
