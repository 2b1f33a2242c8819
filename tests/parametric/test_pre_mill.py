"""What the edge bander mills off: in sizes, in the plan of a deck, and as a finding.

Sizes by hand. The rule, common practice, no source: cut size = finished size - band + what is
milled off, at each banded edge.
"""

from dataclasses import replace

import pytest

from parametric.findings.check_set import check_set
from parametric.findings.finding import Finding, Severity
from parametric.geometry.hand import Hand
from parametric.geometry.space import Axis, Box
from parametric.joints.machining import machining
from parametric.lists.cut_list import Part
from parametric.lists.part_catalogue import PartCatalogue
from parametric.primitives.deck import DeckTooLarge, plan_deck
from parametric.sets.room_set import build_set
from parametric.solids.board_solid import band_solids, board_solid
from tests.example_set import BAND, CONSTRUCTION, INCH, ROUTING, TRIM_MM, set_sizes
from tests.read_back import read_board

MILLING = replace(ROUTING, pre_mill_mm=0.6)


def parts() -> dict[str, Part]:
    """Two parts of the example: banded at both ends, and all round."""
    assembly = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, MILLING, TRIM_MM).assembly
    worked = machining(assembly, MILLING)
    catalogue = PartCatalogue(MILLING.pre_mill_mm)
    boards = [assembly.board(name) for name in ("bed/foot panel", "wall panel/panel")]
    read = (read_board(b, board_solid(b, worked.of(b.name), MILLING)) for b in boards)
    catalogue.add_set("example", Hand.RIGHT, tuple(read), 1)
    return {part.description: part for part in catalogue.parts()}


def test_finished_size_takes_off_what_is_milled() -> None:
    """By hand: a foot panel of 44 x 13 1/4 in, banded at its ends, is cut 2 x 0.4 mm shorter; a
    wall panel of 60 x 30 in, banded all round, 2 x 0.4 mm less both ways.
    """
    foot, panel = parts()["bed foot panel"], parts()["wall panel"]
    assert foot.finished_length_mm == pytest.approx(44 * INCH)
    assert foot.finished_width_mm == pytest.approx(13.25 * INCH)
    assert foot.panel.length_mm == pytest.approx(44 * INCH - 2 * 0.4)
    assert foot.panel.width_mm == pytest.approx(13.25 * INCH)
    assert (panel.finished_length_mm, panel.finished_width_mm) == pytest.approx(
        (60 * INCH, 30 * INCH)
    )
    assert (panel.panel.length_mm, panel.panel.width_mm) == pytest.approx(
        (60 * INCH - 0.8, 30 * INCH - 0.8)
    )


def test_core_and_bands_fill_the_finished_board_whatever_is_milled() -> None:
    """Bands are as thick as they are bought: 1 mm on three sides of 16 x 16 in."""
    routing = replace(ROUTING, pre_mill_mm=2.5)
    assembly = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, routing, TRIM_MM).assembly
    top = assembly.board("bedside table/top")
    bands = band_solids(top, (), routing)
    side = 16 * INCH
    assert sum(band.Volume() for band in bands) == pytest.approx(
        (side + 2 * (side - 1.0)) * 0.75 * INCH
    )


# A sheet of 121 x 49 in, trimmed by 1/2 in all round, has 120 x 48 in: 3048 x 1219.2 mm.
ROOM_MM = (3048.0, 1219.2)


@pytest.mark.parametrize(
    ("width_mm", "pre_mill_mm", "pieces"),
    [
        (1219.2, 0.0, 1),
        (1219.2, 1.0, 1),
        # 2 mm off and 1 mm of band: each of two edges is cut 1 mm beyond its place.
        (1217.2, 2.0, 1),
        (1217.3, 2.0, 2),
        (1218.1, 2.0, 2),
    ],
)
def test_milling_counts_at_both_edges_of_a_deck_at_the_sheet_s_limit(
    width_mm: float, pre_mill_mm: float, pieces: int
) -> None:
    """A deck of 2000 mm; in two pieces its grain runs across, along the sheet."""
    box = Box.spanning((0, width_mm), (0, 2000), (0, 19.05))
    routing = replace(ROUTING, pre_mill_mm=pre_mill_mm)
    plan = plan_deck("bed", box, (20, 1980), CONSTRUCTION, routing, TRIM_MM)
    assert len(plan.joints_y) + 1 == pieces
    assert plan.grain is (Axis.Y if pieces == 1 else Axis.X)


@pytest.mark.parametrize(("length_mm", "fits"), [(3657.6 - 3.0, True), (3657.6 - 2.9, False)])
def test_an_end_piece_of_three_is_larger_by_what_is_milled_off_its_end(
    length_mm: float, fits: bool
) -> None:
    """By hand: 3 x 1219.2 = 3657.6 mm go on three pieces across the sheet, 2500 mm wide so that no
    other way serves; an end that is cut 1 mm beyond its place leaves 1218.2 mm for each.
    """
    box = Box.spanning((0, 2500), (0, length_mm), (0, 19.05))
    routing = replace(ROUTING, pre_mill_mm=2.0)
    within = (1000, 2700)  # so that neither one joint nor three would do: see below
    if fits:
        plan = plan_deck("bed", box, within, CONSTRUCTION, routing, TRIM_MM)
        assert len(plan.joints_y) == 2
    else:
        with pytest.raises(DeckTooLarge):
            plan_deck("bed", box, within, CONSTRUCTION, routing, TRIM_MM)


def findings(pre_mill_mm: float, band_mm: float = 1.0) -> list[Finding]:
    routing = replace(ROUTING, pre_mill_mm=pre_mill_mm)
    made = replace(CONSTRUCTION, band=replace(BAND, thickness_mm=band_mm))
    room_set = build_set(set_sizes(), Hand.RIGHT, made, routing, TRIM_MM)
    found = check_set(room_set, machining(room_set.assembly, routing), routing, TRIM_MM)
    return [finding for finding in found if finding.code == "pre-mill"]


@pytest.mark.parametrize(
    ("pre_mill_mm", "band_mm", "severity"),
    [
        (0.5, 1.0, Severity.OK),
        (1.0, 1.0, Severity.OK),
        (1.2, 1.0, Severity.WARN),
        (3.0, 1.0, Severity.WARN),
        (3.1, 1.0, Severity.FAIL),
        (3.0, 8.0, Severity.OK),
        (3.1, 8.0, Severity.FAIL),
    ],
)
def test_no_more_is_milled_than_the_band_puts_back(
    pre_mill_mm: float, band_mm: float, severity: Severity
) -> None:
    """Each material with its band once: the example bands one-faced and two-faced board."""
    found = findings(pre_mill_mm, band_mm)
    assert [finding.severity for finding in found] == [severity] * 2
    assert [finding.where.split(": ")[1] for finding in found] == [
        "band on laminated one face",
        "band on laminated both faces",
    ]


def test_a_bander_that_does_not_mill_is_not_checked() -> None:
    assert findings(0.0) == []


def test_a_hole_near_a_banded_edge_keeps_less_board_once_that_is_milled() -> None:
    """By hand: caps of 1/2 in, 25 mm from the panel's lower edge, leave 25 - 6.35 - 1 mm of band,
    however much is milled before. The panel has no hole nearer to an edge.
    """
    for pre_mill_mm in (0.0, 2.5):
        routing = replace(ROUTING, pre_mill_mm=pre_mill_mm)
        room_set = build_set(set_sizes(), Hand.RIGHT, CONSTRUCTION, routing, TRIM_MM)
        found = check_set(room_set, machining(room_set.assembly, routing), routing, TRIM_MM)
        (edge,) = (f for f in found if f.code == "hole-edge" and "wall panel/panel" in f.where)
        assert edge.measured == pytest.approx(25.0 - 6.35 - 1.0)
