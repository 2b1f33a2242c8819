"""Random sets of one to six units of all families on any wall or free, in millimetres.

Most can be built; sizes that do not go together are drawn too.
"""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from parametric.geometry.walls import Wall
from parametric.sets.composition import HungPanel, Run, SetSizes, Tie, Unit
from parametric.stock.construction import Construction
from parametric.units.bedside_table import TableSizes
from parametric.units.bench import BenchSizes
from parametric.units.desk import DeskSizes, End
from parametric.units.platform_bed import BedSizes
from parametric.units.steel_tie import TieSizes
from parametric.units.wall_panel import WallPanelSizes
from tests.example_set import CONSTRUCTION
from tests.strategies import lengths

MOST_UNITS = 6
BASE_MM = 340.0
DESK_MM = 740.0
DESK_LEG = replace(
    CONSTRUCTION.leg, key="desk leg", height_mm=DESK_MM - CONSTRUCTION.deck.thickness_mm
)
BUILT_FROM: Construction = replace(CONSTRUCTION, leg=replace(CONSTRUCTION.leg, height_mm=BASE_MM))


def benches() -> st.SearchStrategy[BenchSizes]:
    return st.builds(
        BenchSizes,
        deck_width_mm=lengths(560, 900),
        deck_depth_mm=lengths(500, 1200),
        overhang_mm=lengths(30, 120),
        corner_radius_mm=st.one_of(st.just(0.0), lengths(10, 100)),
    )


def beds() -> st.SearchStrategy[BedSizes]:
    return st.builds(
        BedSizes,
        deck_width_mm=lengths(850, 1500),
        deck_length_mm=lengths(1800, 2100),
        wall_clearance_mm=lengths(0, 25),
        side_overhang_mm=lengths(60, 200),
        foot_overhang_mm=lengths(260, 450),
        leg_inset_mm=lengths(70, 150),
        corner_radius_mm=st.one_of(st.just(0.0), lengths(10, 60)),
    )


def desks() -> st.SearchStrategy[DeskSizes]:
    return st.builds(
        DeskSizes,
        width_mm=lengths(600, 1500),
        depth_mm=lengths(420, 700),
        height_mm=st.just(DESK_MM),
        near_end=st.sampled_from(End),
        far_end=st.sampled_from(End),
        inset_mm=lengths(50, 90),
        setback_mm=lengths(50, 90),
        wall_clearance_mm=lengths(0, 25),
        corner_radius_mm=st.one_of(st.just(0.0), lengths(10, 60)),
    )


def tables() -> st.SearchStrategy[TableSizes]:
    return st.builds(
        TableSizes,
        width_mm=lengths(300, 500),
        depth_mm=lengths(330, 500),
        height_mm=lengths(220, 350),
        shelf_height_mm=st.one_of(st.none(), lengths(60, 130)),
    )


@st.composite
def compositions(draw: st.DrawFn) -> SetSizes:
    """A set of one to six units along up to four walls, or free in the room."""
    left = draw(st.integers(1, MOST_UNITS))
    runs, ties, hung = [], [], []
    for wall in draw(st.permutations(list(Wall))):
        count = draw(st.integers(0, min(left, 4)))
        if count == 0:
            continue
        units, tied, over = draw(_runs(wall, count))
        left -= len(units)
        runs.append(
            Run(
                wall=wall,
                units=units,
                away_mm=draw(lengths(3500, 6000)) if wall.is_opposite else 0.0,
            )
        )
        ties += tied
        hung += over
        if left <= 0:
            break
    free = ()
    if not runs or (left > 0 and draw(st.booleans())):
        free = (
            Unit(
                name="free bed",
                family="platform-bed",
                sizes=draw(beds()),
                from_head_wall_mm=draw(lengths(0, 3000)),
                from_side_wall_mm=draw(lengths(0, 3000)),
            ),
        )
    return SetSizes(
        name="random",
        base_height_mm=BASE_MM,
        butt_gap_mm=draw(lengths(2, 5)),
        runs=tuple(runs),
        free=free,
        ties=tuple(ties),
        hung=tuple(hung),
        room_depth_mm=next((run.away_mm for run in runs if run.wall is Wall.FOOT), None),
        room_width_mm=next((run.away_mm for run in runs if run.wall is Wall.FAR), None),
    )


@st.composite
def _runs(
    draw: st.DrawFn, wall: Wall, count: int
) -> tuple[tuple[Unit, ...], list[Tie], list[HungPanel]]:
    """Units along a wall, the ties that some of them ask for, and perhaps a panel over one."""
    units: list[Unit] = []
    ties: list[Tie] = []
    for index in range(count):
        family = draw(st.sampled_from(["bench", "platform-bed", "desk", "bedside-table"]))
        before = units[-1].family if units else ""
        if family == "bedside-table" and (
            before not in ("bench", "platform-bed") or index == count - 1
        ):
            family = "bench"
        if before == "bedside-table":
            family = draw(st.sampled_from(["bench", "platform-bed"]))
        name = f"{wall.value} {family} {index + 1}"
        gap = draw(st.one_of(st.none(), st.none(), lengths(10, 900)))
        units.append(
            Unit(
                name=name,
                family=family,
                sizes=draw(_OF[family]()),
                gap_mm=None if "bedside-table" in (family, before) else gap,
                built_from=(("leg", DESK_LEG),) if family == "desk" else (),
            )
        )
        if before == "bedside-table":
            ties.append(
                Tie(
                    name=f"{wall.value} tie {index}",
                    through=(units[-3].name, name),
                    sizes=draw(
                        st.builds(
                            TieSizes, from_wall_mm=lengths(110, 200), bearing_mm=lengths(60, 120)
                        )
                    ),
                )
            )
    beds_here = [unit.name for unit in units if unit.family == "platform-bed"]
    hung = []
    if beds_here and draw(st.booleans()):
        sizes = draw(
            st.builds(
                WallPanelSizes,
                height_mm=lengths(400, 900),
                gap_mm=lengths(5, 20),
                plates=st.integers(2, 3),
            )
        )
        hung.append(HungPanel(name=f"{wall.value} panel", over=(beds_here[0],), sizes=sizes))
    return tuple(units), ties, hung


_OF = {"bench": benches, "platform-bed": beds, "desk": desks, "bedside-table": tables}
