"""Whether what the boards' standards allow still goes together.

Sources:
- ANSI A208.2-2009 (MDF): average thickness within .125 mm; second-hand, Surface & Panel Buyer's
  Guide 2014, p. 16 (issuu.com/surfaceandpanel/docs/sandp_bg2014), which shows the plus only; read
  as plus or minus.
- EN 312, tolerances by EN 324 (particleboard): thickness within .3 mm; second-hand, two data sheets
  agree: Swiss Krono (en.mdm.swisskrono.pl/Particle-Boards/Technical-data) and
  etcsupply1.com/technical-specification. Editions are not said.
- ANSI A208.1 (particleboard): average thickness within .200 mm; from memory.
- PS 1-19, performance category 3/4: .719 to .781 in; second-hand, APA's pages on tolerances and
  performance categories (apawood-europe.org).
"""

from pathlib import Path

import ezdxf
import pytest
from ezdxf import bbox
from ezdxf.entities.lwpolyline import LWPolyline
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from casewright.job import Job
from parametric.geometry.hand import Hand
from parametric.joints.joints import Housed
from parametric.sets.room_set import build_set
from parametric.stock.materials import SheetMaterial
from tests.outside.built_demo import CENTRE, DEMOS, KEEPER, SHIP, BuiltDemo

INCH = 25.4
BOARD_PLUS_MM = {"A208.2": 0.125, "A208.1": 0.200, "EN 312": 0.3}
PLYWOOD_3_4_MM = (0.719 * INCH, 0.781 * INCH)


def is_plywood(board: SheetMaterial) -> bool:
    return "plywood" in board.description.lower()


def housings(job: Job) -> list[tuple[SheetMaterial, float]]:
    """Material of each housed board, and the width of the groove it stands in."""
    found = []
    for sizes in job.sets:
        assembly = build_set(
            sizes, Hand.RIGHT, job.construction, job.routing, job.machine.sheet_trim_mm
        ).assembly
        for joint in assembly.joints:
            if isinstance(joint, Housed):
                board = assembly.board(joint.member)
                found.append((board.material, board.thickness_mm + joint.clearance_mm))
    return found


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("standard", list(BOARD_PLUS_MM))
def test_grooves_take_the_thickest_board(jobs: dict[str, Job], name: str, standard: str) -> None:
    housed = housings(jobs[name])
    assert housed
    for board, groove_mm in housed:
        assert groove_mm >= board.thickness_mm + BOARD_PLUS_MM[standard], board.key


@pytest.mark.parametrize("name", DEMOS)
def test_no_plywood_stands_in_a_groove_too_narrow_for_it(jobs: dict[str, Job], name: str) -> None:
    """A slot for 3/4 plywood must take .781 in (PS 1-19); these would not, so none is housed."""
    for board, groove_mm in housings(jobs[name]):
        assert not is_plywood(board) or groove_mm >= PLYWOOD_3_4_MM[1], board.key


def test_the_grooves_of_the_written_carcass_take_the_thickest_board(keeper: BuiltDemo) -> None:
    """Measured on the DXF: runs across each pocket that have board on both sides."""
    groove_layers = keeper.layer_names("groove")
    thickness_mm = keeper.job.construction.carcass.thickness_mm
    widths = [
        width
        for file in keeper.files("part")
        for width in closed_widths(keeper.folder / file["path"], groove_layers)
    ]
    assert len(widths) >= 4  # two sides in the top, two in the bottom
    for width in widths:
        assert width >= thickness_mm + max(BOARD_PLUS_MM.values()), widths
        assert width <= thickness_mm + 0.5  # common practice, no source: glue fills half a mm


def closed_widths(path: Path, groove_layers: set[str]) -> list[float]:
    """Widths of grooves along lines through the middle of each pocket, open ones left out."""
    space = ezdxf.readfile(path).modelspace()  # type: ignore[attr-defined]
    size = bbox.extents(space)
    widths = []
    for entity in space.query("LWPOLYLINE"):
        if not isinstance(entity, LWPolyline) or entity.dxf.layer not in groove_layers:
            continue
        pocket = Polygon([(x, y) for x, y, *_ in entity.get_points()])
        x0, y0, x1, y1 = pocket.bounds
        mid_x, mid_y = (x0 + x1) / 2, (y0 + y1) / 2
        across = LineString([(x0 - 1, mid_y), (x1 + 1, mid_y)])
        along = LineString([(mid_x, y0 - 1), (mid_x, y1 + 1)])
        for run in runs(pocket.intersection(across)):
            if run.bounds[0] > size.extmin.x + 0.01 and run.bounds[2] < size.extmax.x - 0.01:
                widths.append(run.length)
        for run in runs(pocket.intersection(along)):
            if run.bounds[1] > size.extmin.y + 0.01 and run.bounds[3] < size.extmax.y - 0.01:
                widths.append(run.length)
    return widths


def runs(cut: BaseGeometry) -> list[BaseGeometry]:
    return [part for part in getattr(cut, "geoms", [cut]) if part.length > 0]


@pytest.mark.parametrize("name", [CENTRE])
def test_the_inch_plywood_is_the_performance_category_it_is_called(
    jobs: dict[str, Job], name: str
) -> None:
    low, high = PLYWOOD_3_4_MM
    bearer = jobs[name].construction.bearer
    assert is_plywood(bearer)
    assert low <= bearer.thickness_mm <= high


@pytest.mark.parametrize(
    ("name", "leg_plus_mm"),
    # Legs of angles, from memory: ASTM A6, bar size, over 1 to 2 in: 3/64 in; EN 10056-2, up to
    # 50 mm: 1 mm. Notches are set out from a board's edge that a board's thickness may shift.
    [(CENTRE, 3 / 64 * INCH), (SHIP, 1.0), (KEEPER, 1.0)],
)
def test_notches_take_the_largest_angle_behind_the_thickest_board(
    jobs: dict[str, Job], name: str, leg_plus_mm: float
) -> None:
    clearance_mm = jobs[name].construction.angle_clearance_mm
    assert clearance_mm >= leg_plus_mm + max(BOARD_PLUS_MM.values())


@pytest.mark.parametrize(
    ("name", "plywood_least_mm"), [(CENTRE, PLYWOOD_3_4_MM[0]), (SHIP, None), (KEEPER, None)]
)
def test_no_screw_shows_in_the_thinnest_board(
    jobs: dict[str, Job], name: str, plywood_least_mm: float | None
) -> None:
    """Tips stay inside boards that are as thin as their standard lets them be."""
    made_of = jobs[name].construction
    bites = (
        made_of.screw_cleat_thin.length_mm - made_of.cleat.thickness_mm,
        made_of.screw_cleat_wide.length_mm - made_of.cleat.width_mm,
        made_of.screw_angle.length_mm - made_of.angle.thickness_mm,
        made_of.leg.screw.length_mm - made_of.leg.plate_thickness_mm,
    )
    for board in (made_of.deck, made_of.base_panel, made_of.rail, made_of.bearer):
        least = board.thickness_mm - max(BOARD_PLUS_MM.values())
        if is_plywood(board) and plywood_least_mm is not None:
            least = plywood_least_mm
        assert max(bites) < least
