"""Random valid sizes in both hands always build, verify and come back."""

import csv
import io
import json
from collections import Counter
from itertools import product
from pathlib import PurePosixPath

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from casewright.job import Job, Machine, Room
from casewright.pipeline import build
from casewright.stages.nest.nest_settings import NestSettings
from export.dxf.reader import read_dxf
from export.dxf_version import DxfVersion
from export.layer_names import LayerNames
from nesting.question.settings import Effort
from parametric.findings.check_set import check_set
from parametric.findings.check_strength import check_strength
from parametric.findings.finding import Severity
from parametric.geometry.hand import Hand
from parametric.geometry.space import Point
from parametric.joints.machining import machining
from parametric.rooms.measured import Measured
from parametric.sets.room_set import build_set
from parametric.sets.soundness import unsound
from parametric.shapes.routing import Routing
from parametric.shapes.same_panel import same_panel
from parametric.solids.board_solid import board_solid
from parametric.solids.common_volumes import common_volumes
from parametric.solids.flatten import flatten
from parametric.solids.panel_solid import panel_solid
from parametric.solids.set_model import model_set
from parametric.steps.step_findings import step_findings
from parametric.stock.lengths import Units
from parametric.strength.loads import Loads
from tests.example_set import CONSTRUCTION, ROUTING, TRIM_MM
from tests.example_set import set_sizes as plain
from tests.row import Row
from tests.solid_assertions import difference_mm3, placed
from tests.strategies import (
    LEFT_OUT,
    UNITS,
    construction_for,
    routings,
    set_sizes,
    whole_sets,
    without,
)

QUICK = NestSettings(effort=Effort.QUICK)
# Random sets fit, but some tables and narrow beds are too slight for the loads of the standard.
LIGHT = Loads(seat_n=500.0, panel_n=200.0)
FEW = settings(
    max_examples=4,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=list(HealthCheck),
)


@FEW
@given(sizes=set_sizes(), routing=routings())
def test_random_sets_stand_and_come_back(sizes: Row, routing: Routing) -> None:
    construction = construction_for(sizes)
    seats = set()
    for hand in Hand:
        model = model_set(build_set(sizes, hand, construction, routing, TRIM_MM), routing)
        assert sum(volume for _, volume in common_volumes(model.solids.installed)) < 1.0
        for read in model.read_boards:
            panel = read.laid.panel
            rebuilt = panel_solid(read.board.name, panel)
            solid = board_solid(read.board, model.machining.of(read.board.name), routing)
            assert difference_mm3(placed(rebuilt, read.laid.pose), solid) < 0.1
            again = flatten("again", rebuilt, front=Point(0, 0, 1), length=Point(1, 0, 0))
            assert same_panel(again.panel, panel)
        seats |= {leg.box.high.z for leg in model.room_set.assembly.legs}
    assert seats == (set() if sizes.bed is None else {sizes.base_height_mm})


@pytest.mark.parametrize("missing", LEFT_OUT)
@settings(FEW, max_examples=2)
@given(whole=whole_sets(), routing=routings())
def test_sets_without_some_units_are_well(
    missing: tuple[str, ...], whole: Row, routing: Routing
) -> None:
    """Every check that needs no solids, and an order of work."""
    sizes = without(whole, missing)
    room_set = build_set(sizes, Hand.LEFT, construction_for(sizes), routing, TRIM_MM)
    worked = machining(room_set.assembly, routing)
    found = (
        *check_set(room_set, worked, routing, TRIM_MM),
        *step_findings("set", room_set.assembly, worked),
        *check_strength("set", room_set.assembly, LIGHT),
    )
    assert not [each for each in found if each.severity is Severity.FAIL]


def random_job(sizes: Row, routing: Routing, version: DxfVersion) -> Job:
    hands = [Hand.RIGHT, Hand.LEFT, Hand.RIGHT]
    return Job(
        name="Random",
        units=Units.MM,
        currency="EUR",
        sets=(sizes,),
        construction=construction_for(sizes),
        routing=routing,
        machine=Machine(
            name="router",
            sheet_trim_mm=TRIM_MM,
            gap_mm=12.7,
            dxf_version=version,
            largest_drill_mm=13.0,
            layer_names=LayerNames(),
        ),
        rooms=tuple(
            Room(number=str(i), set_name=sizes.name, hand=hand, measured=Measured())
            for i, hand in enumerate(hands)
        ),
        loads=LIGHT,
    )


@FEW
@given(sizes=set_sizes(), routing=routings(), version=st.sampled_from(DxfVersion))
def test_random_jobs_build(sizes: Row, routing: Routing, version: DxfVersion) -> None:
    outcome = build(random_job(sizes, routing, version), settings=QUICK)
    failed = [f for f in outcome.findings if f.severity is Severity.FAIL]
    assert not failed
    manifest = json.loads(outcome.files[PurePosixPath("manifest.json")])
    text_layer = next(layer["name"] for layer in manifest["layers"] if layer["role"] == "text")
    placed_parts: Counter[str] = Counter()
    for nest in manifest["nests"]:
        for layout in nest["layouts"]:
            content = read_dxf(outcome.files[PurePosixPath(layout["file"])])
            for label in content.drawing.labels:
                assert label.layer == text_layer
                placed_parts[label.text] += layout["runs"]
    table = outcome.files[PurePosixPath("shop/cutlist.csv")].decode()
    asked = {row["part"]: int(row["quantity"]) for row in csv.DictReader(io.StringIO(table))}
    assert placed_parts == asked


def test_the_random_jobs_differ() -> None:
    """The strategies do reach split decks, sets without a wall panel and both reliefs."""
    found = set()

    @settings(max_examples=60, phases=[Phase.generate], database=None)
    @given(sizes=set_sizes(), routing=routings())
    def look(sizes: Row, routing: Routing) -> None:
        found.add(("panel", sizes.wall_panel is None))
        found.add(("relief", routing.corner_relief))
        assembly = build_set(sizes, Hand.RIGHT, construction_for(sizes), routing, TRIM_MM).assembly
        found.add(("bearer", any("bearer" in board.name for board in assembly.boards)))

    look()
    assert {("bearer", True), ("bearer", False), ("panel", True), ("panel", False)} <= found
    assert len([key for key in found if key[0] == "relief"]) == 2


def test_sets_lack_what_a_job_lets_them_lack() -> None:
    combinations = (
        tuple(unit for unit, there in zip(UNITS, present, strict=True) if not there)
        for present in product((True, False), repeat=len(UNITS))
    )
    allowed = {
        lacks for lacks in combinations if not list(unsound(without(plain(), lacks), CONSTRUCTION))
    }
    assert set(LEFT_OUT) == allowed


def test_a_deck_that_fits_no_stock_is_refused() -> None:
    from parametric.primitives.deck import DeckTooLarge

    with pytest.raises(DeckTooLarge, match="bed deck"):
        build_set(plain(bed_width=130, bed_length=140), Hand.RIGHT, CONSTRUCTION, ROUTING, TRIM_MM)
