"""Masses of sheets and parts against published weights and against the solids of the STEP file."""

import pytest

from casewright.job import Job
from parametric.stock.materials import SheetMaterial
from tests.casewright.step_names import solids_by_name
from tests.outside.built_demo import CENTRE, BuiltDemo

INCH = 25.4
POUND_KG = 0.45359237  # exact; NIST SP 811 (2008), appendix B.8, from memory
LB_FT3 = POUND_KG / 0.3048**3

# A sheet of 4 ft x 8 ft x 3/4 in is 2 ft3: 48, 45 and 34 lb/ft3 make 96, 90 and 68 lb, the weights
# that dealers of faced board, particleboard and fir plywood quote. Common practice, no source.
SHEET_POUNDS = {"oak-one-face": 96.0, "raw-particleboard": 90.0, "fir-plywood": 68.0}
# ANSI A208.1, edition not said, grades M: 40 to 50 lb/ft3; second-hand, a contributor's note at
# woodweb.com/knowledge_base/M_particleboard_grades.html. A second note there says 37 to 50.
GRADE_M_LB_FT3 = (40.0, 50.0)


def boards(job: Job) -> dict[str, SheetMaterial]:
    made_of = job.construction
    used = (made_of.deck, made_of.rail, made_of.bearer, made_of.carcass, made_of.wall_panel)
    return {board.key: board for board in used}


@pytest.mark.parametrize("key", list(SHEET_POUNDS))
def test_a_nominal_sheet_weighs_what_is_quoted(jobs: dict[str, Job], key: str) -> None:
    board = boards(jobs[CENTRE])[key]
    volume_m3 = 48 * 96 * (board.thickness_mm / INCH) * INCH**3 * 1e-9
    assert volume_m3 * board.density_kg_m3 / POUND_KG == pytest.approx(SHEET_POUNDS[key], rel=0.002)


def test_the_raw_board_is_as_dense_as_its_grade(jobs: dict[str, Job]) -> None:
    low, high = GRADE_M_LB_FT3
    assert low <= boards(jobs[CENTRE])["raw-particleboard"].density_kg_m3 / LB_FT3 <= high


def test_the_cleat_is_as_dense_as_yellow_poplar(jobs: dict[str, Job]) -> None:
    # NDS 2018 table 12.3.3A, p. 87, second-hand: G .43 (oven-dry). In a room at 12 % moisture (from
    # memory) it is heavier by that water and larger by some swelling: between G and 1.12 G.
    density = jobs[CENTRE].construction.cleat.density_kg_m3
    assert 430 < density < 430 * 1.12


def test_parts_weigh_what_their_solids_weigh(keeper: BuiltDemo) -> None:
    """Volume from the STEP file by the CAD kernel; bands from the finished size by hand."""
    (model,) = keeper.files("solids")
    solids = solids_by_name(keeper.folder / model["path"])
    density = {key: board.density_kg_m3 for key, board in boards(keeper.job).items()}
    band = keeper.job.construction.band
    for row in keeper.table("cutlist"):
        board_kg = solids[row["part"]][0].Volume() * 1e-9 * density[row["material"]]
        ends = row["bands"].count("edge 2:") + row["bands"].count("edge 4:")
        sides = row["bands"].count("edge 1:") + row["bands"].count("edge 3:")
        run_mm = ends * float(row["finished_width_mm"]) + sides * float(row["finished_length_mm"])
        band_mm3 = run_mm * band.thickness_mm * float(row["thickness_mm"])
        mass_kg = board_kg + band_mm3 * 1e-9 * band.density_kg_m3
        assert float(row["mass_kg"]) == pytest.approx(mass_kg, abs=0.001), row["part"]


def test_parts_weigh_a_little_less_than_their_blanks(keeper: BuiltDemo) -> None:
    """By hand from the cut list: length x width x thickness x density, less holes and grooves."""
    density = {key: board.density_kg_m3 for key, board in boards(keeper.job).items()}
    for row in keeper.table("cutlist"):
        sizes = ("finished_length_mm", "finished_width_mm", "thickness_mm")
        length, width, thickness = (float(row[size]) for size in sizes)
        blank_kg = length * width * thickness * 1e-9 * density[row["material"]]
        # By hand: grooves take up to an eighth of a small carcass board, and bands are denser than
        # board.
        assert 0.87 * blank_kg < float(row["mass_kg"]) < 1.01 * blank_kg, row["part"]


def test_cleats_weigh_what_their_sticks_weigh(keeper: BuiltDemo) -> None:
    cleat = keeper.job.construction.cleat
    section_m2 = cleat.thickness_mm * cleat.width_mm * 1e-6
    rows = [row for row in keeper.table("linear") if row["material"] == cleat.key]
    assert len(rows) > 5
    for row in rows:
        stick_kg = float(row["length_mm"]) / 1000 * section_m2 * cleat.density_kg_m3
        # By hand: screw holes take at most 8 % of a short cleat.
        assert 0.92 * stick_kg - 0.0005 < float(row["mass_kg"]) <= stick_kg + 0.0005, row["part"]
